"""Faults of the deadlift, conventional and sumo."""

from programming.movements.families import Family, Phase
from reviews.intake.camera_views import sight_of
from reviews.library.models import Breaks
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault

PAUSE_PULL = StarterDrill("Pause deadlift", "3 × 3 at 60 to 70%, 2 s just off the floor")

DEADLIFT = [
    StarterFault(
        name="Slack left in the bar",
        phase=Phase.SETUP,
        see="The bar jerks: arms bend and straighten, or the discs click after the body has begun "
        "to move. The hips rise before the bar leaves the floor.",
        sight=sight_of(Family.DEADLIFT, "slack in the bar"),
        causes=[
            "Hurry between the grip and the pull",
            "Trying to rip the bar off the floor",
            "No tension in arms and upper back before the legs push",
        ],
        breaks=Breaks.NO,
        breaks_note="Not judged by itself.",
        goal_note="Worth fixing at light loads, where there is time to feel it.",
        cues=[
            StarterCue("Bend the bar before you lift it."),
            StarterCue("Hear the click, then push the floor."),
        ],
        drills=[
            PAUSE_PULL,
            StarterDrill("Deadlift from a dead stop", "5 × 2 at 70%, 3 s set-up each"),
        ],
    ),
    StarterFault(
        name="Hips shoot up off the floor",
        phase=Phase.ASCENT,
        see="Between the first effort and the bar leaving the floor the hips rise and the trunk "
        "tips; the legs are nearly straight when the bar reaches the knee.",
        sight=sight_of(Family.DEADLIFT, "back and shoulders"),
        causes=[
            "Hips set lower than the lifter can pull from",
            "Bar too far from the shins at the start",
            "Slack left in the bar",
        ],
        breaks=Breaks.NO,
        breaks_note="Not judged, as long as the bar does not go down again.",
        goal_note="Often the start is only set too low: hips that settle to the same place in "
        "every rep may be where this lifter pulls from. Look again with a higher start.",
        cues=[
            StarterCue("Push the floor away until the bar is at the knee."),
            StarterCue("Chest and hips leave together.", outside=False),
        ],
        drills=[PAUSE_PULL],
    ),
    StarterFault(
        name="Bar drifts from the legs",
        phase=Phase.ASCENT,
        see="Daylight between bar and shin or thigh. The bar's path, seen from the side, bends "
        "forward off the floor or at the knee.",
        sight=sight_of(Family.DEADLIFT, "bar path"),
        causes=[
            "The bar starts ahead of mid-foot",
            "The lats let go when the bar leaves the floor",
            "Shoulders far behind the bar at the start, so it swings forward",
        ],
        breaks=Breaks.NO,
        breaks_note="Not judged by itself; a step to catch it is not to standard.",
        goal_note="Costs load for everybody. With a sore back, look at it first.",
        cues=[
            StarterCue("Paint your legs with the bar."),
            StarterCue("Drag the bar back into you."),
        ],
        drills=[
            StarterDrill("Straight-arm pull-down", "3 × 10 before pulling, easy"),
            StarterDrill("Romanian deadlift", "3 × 6 at 50 to 60%, bar on the thighs all the way"),
        ],
    ),
    StarterFault(
        name="Back position lost as load rises",
        phase=Phase.ASCENT,
        see="Compare the back's line at the start and when the bar passes the knee, in a light set "
        "and in the heavy one. The question is how much it changes under load.",
        sight=sight_of(Family.DEADLIFT, "back and shoulders"),
        causes=[
            "More load than the lifter can hold position with",
            "The brace comes late or goes",
            "Hips and hamstrings reach their end before the bar is reached",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="A back that keeps one shape, even a round upper one, is a note. Call it when "
        "the shape changes during the pull. At a meet the back's shape is not judged by itself.",
        goal_note="Near a meet some change in the heaviest lift is accepted by many coaches. In "
        "training, and with any back pain, hold the load at the last one that kept its shape.",
        cues=[
            StarterCue("Show the shirt's logo to the wall in front."),
            StarterCue("Breathe against the belt before you touch the bar."),
        ],
        drills=[
            PAUSE_PULL,
            StarterDrill(
                "Deadlift from blocks", "3 × 4 at 70%, bar below the knee, same back each rep"
            ),
        ],
    ),
    StarterFault(
        name="Bar rested on the thighs",
        phase=Phase.ASCENT,
        see="Above the knee the knees bend again and come under the bar; it is carried up the "
        "thighs in small jerks.",
        sight=sight_of(Family.DEADLIFT, "lockout"),
        causes=[
            "Legs straight too early, so the back has to finish alone",
            "Bar away from the legs when it passes the knee",
            "The load is past what the hips can finish",
        ],
        breaks=Breaks.YES,
        breaks_note="Supporting the bar on the thighs breaks the standard; touching them on the "
        "way up does not. At a meet the federation's current book decides.",
        goal_note="A rep that needed it is a missed rep in every plan.",
        cues=[
            StarterCue("Drive the hips through to the bar."),
            StarterCue("Stand up tall against the ceiling."),
        ],
        drills=[StarterDrill("Deadlift from blocks", "3 × 4 at 75%, bar just above the knee")],
    ),
    StarterFault(
        name="Unfinished at the top",
        phase=Phase.LOCKOUT,
        see="At the top knees or hips are still bent, or the shoulders are in front of the bar, "
        "when it starts down.",
        sight=sight_of(Family.DEADLIFT, "lockout"),
        causes=[
            "In a hurry to put it down",
            "Grip going, so the end is skipped",
            "The load is past what the hips can finish",
        ],
        breaks=Breaks.YES,
        breaks_note="Knees locked, standing erect, shoulders back. At a meet the bar waits for the "
        "signal.",
        goal_note="For a total, hold each top for a second in training.",
        cues=[
            StarterCue("Stand tall and wait for the signal."),
            StarterCue("Squeeze the bar at the top."),
        ],
        drills=[StarterDrill("Hold at the top", "last rep of each set, 5 s")],
    ),
    StarterFault(
        name="Leans back at the top",
        phase=Phase.LOCKOUT,
        see="After the hips are straight the trunk goes on backwards and the lower back arches; "
        "often the knees soften with it.",
        sight=sight_of(Family.DEADLIFT, "back and shoulders"),
        causes=[
            "The finish is shown with the back instead of the hips",
            "“Shoulders back” taken too far",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="A lean is a note. If the knees bend again it is not to standard.",
        goal_note="No load is won by it. With a sore back, stop it first.",
        cues=[
            StarterCue("Grow towards the ceiling, not the wall behind."),
            StarterCue("Belt buckle up, ribs stay down.", outside=False),
        ],
        drills=[StarterDrill("Hip hinge to a wall", "2 × 8 before pulling, unloaded")],
    ),
]
