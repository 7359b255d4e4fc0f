"""Faults of the squat on the way down and up again, wraps included."""

from programming.movements.families import Family, Phase
from reviews.intake.camera_views import sight_of
from reviews.library.models import Breaks
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault

PAUSE_SQUAT = StarterDrill("Pause squat", "3 × 4 at 65 to 70% of technical max, 2 s pause")
SLOW_SQUAT = StarterDrill("Squat with 3 s down", "3 × 5 at 60 to 70%, the same speed all the way")

SQUAT_PATH = [
    StarterFault(
        name="Back position lost as load rises",
        phase=Phase.ASCENT,
        see="On the lighter clip the trunk keeps its angle and shape; on the heavy one it folds "
        "or rounds at the same height of the bar. Put both clips side by side at the turnaround.",
        sight=sight_of(Family.SQUAT, "hips and trunk"),
        causes=[
            "The load is above what can be held in this position",
            "The brace is taken for light sets only",
            "The upper back lets go first and the rest follows",
        ],
        breaks=Breaks.YES,
        breaks_note="A rep that loses the intended position is a missed rep, however heavy.",
        goal_note="A fault that shows only on heavy sets is answered by load and by strength in "
        "the position, before more cues. Returning after a break: stay where it holds.",
        cues=[
            StarterCue("Same picture at every weight."),
            StarterCue("Logo on the shirt faces the wall all the way up."),
        ],
        drills=[
            PAUSE_SQUAT,
            StarterDrill("Technical singles", "6 × 1 at the last load that holds"),
        ],
    ),
    StarterFault(
        name="Heels come up",
        phase=Phase.TURNAROUND,
        see="Daylight under the heel near the lowest frame, or the shoe rocks; the weight goes "
        "to the front of the foot and the knees shoot ahead.",
        sight=sight_of(Family.SQUAT, "heels and toes"),
        causes=[
            "Ankles that bend little, in flat shoes",
            "Sitting straight down with a stance that asks for hips back",
            "The bar ahead of mid-foot",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="A heel that leaves the floor is a rep out of position. At a meet rocking of "
        "the foot may be allowed where a step is not; the federation's current book decides.",
        goal_note="For muscle a raised heel (shoe or plate) is a fair answer. For a total find "
        "shoes and stance that keep the foot flat.",
        cues=[
            StarterCue("One flat print on the floor."),
            StarterCue("Screw the whole shoe into the floor."),
        ],
        drills=[
            SLOW_SQUAT,
            StarterDrill("Goblet squat, heels raised", "3 × 8, light, 2 s at depth"),
        ],
    ),
    StarterFault(
        name="Toes lift",
        phase=Phase.TURNAROUND,
        see="The front of the shoe rises, the weight is on the heels and the lifter sways back "
        "or takes a small step.",
        sight=sight_of(Family.SQUAT, "heels and toes"),
        causes=[
            "“Sit back” overdone",
            "The bar behind mid-foot",
            "Shoes with a soft sole",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="Lifted toes with a still bar are a note. A step is a failed lift at a meet.",
        goal_note="Balance comes before load for every goal.",
        cues=[
            StarterCue("Grip the floor like sand."),
            StarterCue("Bar over the laces."),
        ],
        drills=[SLOW_SQUAT],
    ),
    StarterFault(
        name="Dropped into the bottom",
        phase=Phase.DESCENT,
        see="The last third of the descent is much faster than the first: the bar is let fall, "
        "bends, and the lifter bounces off the bottom.",
        sight=sight_of(Family.SQUAT, "speed down"),
        causes=[
            "The rebound is used in place of strength out of the bottom",
            "No control of speed above a certain load",
            "Tension given up on the way down",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="Speed alone breaks nothing. It does when position or depth goes with it, or "
        "when the bar goes down a second time.",
        goal_note="A quick, controlled turn lifts more for a total. For muscle and after a break, "
        "slower costs little and keeps the position.",
        cues=[
            StarterCue("Brake before the floor, then go."),
            StarterCue("Same speed from the rack to the hole."),
        ],
        drills=[SLOW_SQUAT, PAUSE_SQUAT],
    ),
    StarterFault(
        name="Shifts to one side",
        phase=Phase.ASCENT,
        see="Out of the bottom the hips move to one side and one leg straightens first; the bar "
        "tips or turns.",
        sight=sight_of(Family.SQUAT, "level hips and bar"),
        causes=[
            "Feet that are not level or turned alike",
            "One side stronger, or guarded after an injury",
            "The bar off centre",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="Nobody is even. Call it when it grows with the load or tips the bar.",
        goal_note="New, or with pain on one side: stop loading it and have it looked at.",
        cues=[
            StarterCue("Both shoes press the floor alike."),
            StarterCue("Bar stays level with the rack hooks."),
        ],
        drills=[
            StarterDrill("Split squat", "3 × 8 a side, start with the weaker one"),
            PAUSE_SQUAT,
        ],
    ),
    StarterFault(
        name="Knees shoot back",
        phase=Phase.ASCENT,
        see="In the first frames of the ascent the shins go upright at once and the work moves "
        "to the back, while the bar has hardly moved.",
        sight=sight_of(Family.SQUAT, "hips and trunk"),
        causes=[
            "Thighs that tire before the hips do",
            "Weight towards the toes at the bottom",
            "Trying to stand up by lifting the hips",
        ],
        breaks=Breaks.NO,
        breaks_note="It breaks nothing by itself. With a changing trunk it is “Hips rise first”.",
        goal_note="For muscle in the thighs it defeats the purpose. For a total it may be how "
        "this lifter is strongest: test before changing.",
        cues=[
            StarterCue("Drive the floor away, knees stay over the laces."),
            StarterCue("Leave the bottom knees first.", outside=False),
        ],
        drills=[StarterDrill("High-bar squat", "3 × 6 at 60 to 70%, knees forward as long as can")],
    ),
    StarterFault(
        name="Knees left soft at the top",
        phase=Phase.LOCKOUT,
        see="Between reps and at the end the knees stay bent; the lifter never stands still.",
        sight=sight_of(Family.SQUAT, "lockout"),
        causes=["Hurry to the next rep", "Keeping tension all through, taken too far"],
        breaks=Breaks.YES,
        breaks_note="The lift begins and ends standing with the knees locked; at a meet a soft "
        "knee is a failed lift. The federation's current book decides.",
        goal_note="For muscle, not locking is a choice, and then it is another movement.",
        cues=[
            StarterCue("Stand tall, show the bar to the wall."),
            StarterCue("Finish every rep like the last one."),
        ],
        drills=[StarterDrill("Singles with a 2 s stand", "5 × 1 at 75%, counted aloud")],
    ),
    StarterFault(
        name="Cut high by the wraps",
        phase=Phase.TURNAROUND,
        see="In wraps the descent stops against them above depth, or the last part is forced and "
        "the hips shoot back. Compare with a clip without wraps.",
        sight=sight_of(Family.SQUAT, "depth"),
        causes=[
            "Wraps tighter than this load can press open",
            "Wraps kept for the heaviest day only, so the descent is never practised",
            "Slower than usual out of respect for them",
        ],
        breaks=Breaks.YES,
        breaks_note="Depth is depth, wrapped or not. A squat in wraps is a movement with its own "
        "max.",
        goal_note="Only for a total in a division that allows wraps. Numb or tingling feet: take "
        "them off.",
        cues=[
            StarterCue("Push the wraps open."),
            StarterCue("Ride them down to the same hole."),
        ],
        drills=[StarterDrill("Squat in loose wraps", "4 × 2 at 85%, tighter each week")],
    ),
]
