"""Faults of the deadlift in the setup and off the floor, conventional and sumo."""

from programming.movements.families import Family, Phase
from reviews.intake.camera_views import sight_of
from reviews.library.models import Breaks
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault

PAUSE_PULL = StarterDrill("Pause deadlift", "3 × 3 at 60 to 70%, 2 s just off the floor")
SLOW_PULL = StarterDrill("Deadlift, 3 s to the knee", "3 × 4 at 60 to 65%")

DEADLIFT_SETUP = [
    StarterFault(
        name="Hips start too low",
        phase=Phase.SETUP,
        see="The lifter squats down to the bar; then the hips rise to where the pull really "
        "begins, and only then do the discs leave the floor. Mark the hips in both frames.",
        sight=sight_of(Family.DEADLIFT, "hips at the start"),
        causes=[
            "A squat is copied at the floor",
            "“Use the legs” taken too far",
            "The shins pushed into the bar, so there is no room",
        ],
        breaks=Breaks.NO,
        breaks_note="It breaks nothing by itself: the bar has not moved yet.",
        goal_note="For a total the right height lifts more and is the same each time. Sumo sits "
        "lower than conventional; both have one height from which the bar moves at once.",
        cues=[
            StarterCue("Start where the bar leaves with you."),
            StarterCue("Shins touch, hips wait.", outside=False),
        ],
        drills=[
            PAUSE_PULL,
            StarterDrill("Lift off and put back", "4 × 3 at 75%, a hand's breadth"),
        ],
    ),
    StarterFault(
        name="Shoulders ahead of the bar",
        phase=Phase.SETUP,
        see="At the start the front of the shoulder is well past the bar, the hips are high and "
        "the arms slant back to it; off the floor the bar swings out.",
        sight=sight_of(Family.DEADLIFT, "back and shoulders"),
        causes=[
            "Hips set too high",
            "The bar too far from the shins",
            "Pulling with the back alone",
        ],
        breaks=Breaks.NO,
        breaks_note="A little ahead is usual. Call what follows, not the start.",
        goal_note="With a sore back, bring it closer first and keep the load where that holds.",
        cues=[
            StarterCue("Hang the arms straight down to the bar."),
            StarterCue("Sit the bar into your pockets."),
        ],
        drills=[PAUSE_PULL, SLOW_PULL],
    ),
    StarterFault(
        name="Overextended at the start",
        phase=Phase.SETUP,
        see="The lower back is pulled hollow before the pull and gives way as soon as the bar "
        "weighs: the shape of frame one is not the shape of frame ten.",
        sight=sight_of(Family.DEADLIFT, "back and shoulders"),
        causes=[
            "“Arch” taken as the goal",
            "No air behind it",
            "More range asked of the hips than there is",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="It breaks the standard when the shape changes during the rep.",
        goal_note="With a sore back, look here first. Pain is for a clinician.",
        cues=[
            StarterCue("Long back, like a plank laid on you."),
            StarterCue("Air into the belt all round."),
        ],
        drills=[SLOW_PULL, StarterDrill("Romanian deadlift", "3 × 8 at 50 to 60%, one shape")],
    ),
    StarterFault(
        name="Rushed setup",
        phase=Phase.SETUP,
        see="Grip and rip: the bar is pulled before the feet, the grip and the air are set; every "
        "rep starts from another place. Compare the first frames of each rep.",
        sight=sight_of(Family.DEADLIFT, "setup"),
        causes=["Nerves before a heavy pull", "No fixed order", "Bounced reps in training"],
        breaks=Breaks.NO,
        breaks_note="Not a failed rep.",
        goal_note="For a total, one start that is always the same is worth kilos.",
        cues=[
            StarterCue("Bend to the bar, wedge, then push the floor away."),
            StarterCue("Three seconds on the bar before it moves."),
        ],
        drills=[StarterDrill("Singles from a full reset", "6 × 1 at 75%, step away each time")],
    ),
    StarterFault(
        name="Pulled with bent arms",
        phase=Phase.ASCENT,
        see="The elbows bend off the floor and straighten with a jerk when the load comes.",
        sight=sight_of(Family.DEADLIFT, "arms"),
        causes=["The bar yanked", "Trying to help with the arms"],
        breaks=Breaks.NO,
        breaks_note="Not a failed rep; with a mixed grip a known risk for the arm. Stop doing it.",
        goal_note="Change it for every goal, and before load goes up.",
        cues=[
            StarterCue("Arms are ropes, hands are hooks."),
            StarterCue("Take the click out of the bar, then push."),
        ],
        drills=[PAUSE_PULL],
    ),
    StarterFault(
        name="Weight on the toes",
        phase=Phase.ASCENT,
        see="Off the floor the heels get light or the lifter rocks forward; the bar leaves ahead "
        "of mid-foot.",
        sight=sight_of(Family.DEADLIFT, "bar path"),
        causes=["The bar starts ahead of mid-foot", "Heeled shoes", "Knees far over the bar"],
        breaks=Breaks.DEGREE,
        breaks_note="A step is a failed lift at a meet. Rocking with a quiet bar is a note.",
        goal_note="Fix before load goes up.",
        cues=[
            StarterCue("Bar over the knot of the laces."),
            StarterCue("Push the heels through the floor."),
        ],
        drills=[SLOW_PULL, StarterDrill("Deadlift in flat shoes", "3 × 5 at 65%")],
    ),
    StarterFault(
        name="Knees come in, sumo",
        phase=Phase.ASCENT,
        see="From the front the knees leave the line of the feet as the bar breaks from the "
        "floor, and the hips shoot up at the same time.",
        sight=sight_of(Family.DEADLIFT, "knees over the feet"),
        causes=[
            "A stance wider than the hips can open",
            "Toes turned out more than the knees can follow",
            "Load above what the legs start",
        ],
        breaks=Breaks.NO,
        breaks_note="Not a failed rep by itself.",
        goal_note="For a total, narrow the stance by a shoe's width and test. Knee pain: stop.",
        cues=[
            StarterCue("Spread the floor."),
            StarterCue("Knees to the side walls."),
        ],
        drills=[StarterDrill("Sumo pause pull", "3 × 3 at 60%, 2 s with the discs just off")],
    ),
    StarterFault(
        name="Bounced between reps",
        phase=Phase.RETURN,
        see="The discs hit the floor and come back up with the next rep; only the first rep of "
        "the set is a lift from a dead stop.",
        sight=sight_of(Family.DEADLIFT, "stop between reps"),
        causes=["Sets done for the count", "The setup is felt as the hard part"],
        breaks=Breaks.DEGREE,
        breaks_note="Agree on it: where a rep means from the floor, a bounced one is not to "
        "standard and enters no estimate.",
        goal_note="For a total, dead stops. For muscle, touch and go under control is a choice.",
        cues=[
            StarterCue("Quiet discs."),
            StarterCue("Every rep is rep one."),
        ],
        drills=[StarterDrill("Dead-stop sets", "3 × 4 at 70%, 2 s on the floor")],
    ),
]
