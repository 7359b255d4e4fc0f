"""Faults of the bench press."""

from programming.movements.families import Family, Phase
from reviews.intake.camera_views import sight_of
from reviews.library.models import Breaks
from reviews.library.starter.bench_setup import SLOW_BENCH
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault

LONG_PAUSE = StarterDrill("Long-pause bench press", "3 × 4 at 65 to 70%, 3 s on the chest")

BENCH = [
    StarterFault(
        name="Hips leave the bench",
        phase=Phase.ASCENT,
        see="Look for light between the seat and the bench while the bar goes up, mostly in the "
        "hard part. The lens must be at bench height, or the gap is hidden.",
        sight=sight_of(Family.BENCH, "hips on the bench"),
        causes=[
            "Feet so far back that pushing with the legs lifts the hips",
            "The legs push up instead of towards the head",
            "The load is above what the press alone can do",
        ],
        breaks=Breaks.YES,
        breaks_note="Seat, shoulders and head stay on the bench in the standard. At a meet the "
        "federation's current book decides.",
        goal_note="For a total: first. For muscle it still changes what does the work.",
        cues=[
            StarterCue("Push yourself up the bench, not off it."),
            StarterCue("Slide the bench away with your feet."),
        ],
        drills=[
            StarterDrill(
                "Feet a shoe further forward", "all working sets for two weeks, note the load"
            ),
            LONG_PAUSE,
        ],
    ),
    StarterFault(
        name="Bounce off the chest",
        phase=Phase.TURNAROUND,
        see="The bar does not stand still on the chest: step through the frames at the touch and "
        "look for one where it rests. Chest or plates jump.",
        sight=sight_of(Family.BENCH, "pause on the chest"),
        causes=[
            "The descent is let go in the last part",
            "The weak point off the chest is avoided",
            "The pause was never trained",
        ],
        breaks=Breaks.YES,
        breaks_note="For a paused press the bar stands still before it goes up. In touch-and-go "
        "training agree on a soft touch; a heave off the ribs is not to standard there either.",
        goal_note="For a total every heavy set is paused. For muscle a soft touch is enough.",
        cues=[
            StarterCue("Set the bar down on glass."),
            StarterCue("Wait for the bar to be still."),
        ],
        drills=[LONG_PAUSE, SLOW_BENCH],
    ),
    StarterFault(
        name="Uneven press",
        phase=Phase.ASCENT,
        see="The bar is not level: one end leads by more than a disc's edge. From the head or foot "
        "end, compare both elbows and the time each arm is straight.",
        sight=sight_of(Family.BENCH, "level bar"),
        causes=[
            "Hands not at the same distance from the middle of the bar",
            "One shoulder blade let go at the chest",
            "One side weaker, or kept back because it hurts",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="A slight tilt that evens out before the end is a note. A press that stops or "
        "ends on one side is not to standard.",
        goal_note="If it is new, ask whether anything hurts before changing the load.",
        cues=[
            StarterCue("Both ends of the bar to the ceiling together."),
            StarterCue("Find the ring with the same finger on both sides."),
        ],
        drills=[StarterDrill("Dumbbell press", "3 × 8, both sides at the speed of the slower one")],
    ),
    StarterFault(
        name="Shoulder blades lost at the chest",
        phase=Phase.TURNAROUND,
        see="As the bar comes down the shoulders roll forward and up off the bench, and the chest "
        "sinks. The touch comes late and the first part up is slow.",
        sight=sight_of(Family.BENCH, "head and shoulder blades"),
        causes=[
            "Unracked alone from hooks that are too high or too far back",
            "Blades not set before the bar leaves the hooks",
            "Reaching for the bar with the shoulders",
        ],
        breaks=Breaks.NO,
        breaks_note="Not judged by itself, as long as the shoulders stay on the bench.",
        goal_note="Look at it first when the front of the shoulder is sore.",
        cues=[
            StarterCue("Bring the chest up to the bar."),
            StarterCue("Pull the bar apart on the way down."),
            StarterCue("Pinch a towel between the blades.", outside=False),
        ],
        drills=[
            LONG_PAUSE,
            StarterDrill("Barbell row to the touch point", "3 × 8, pause 1 s at the chest"),
        ],
    ),
    StarterFault(
        name="Touch point wanders",
        phase=Phase.TURNAROUND,
        see="Compare the lowest frame of every rep: the bar touches higher or lower each time, and "
        "the forearms are not upright under it.",
        sight=sight_of(Family.BENCH, "bar path"),
        causes=[
            "No fixed idea of where the bar should land",
            "Elbow angle changes from rep to rep",
            "The set-up is redone in the middle of the set",
        ],
        breaks=Breaks.NO,
        breaks_note="Not judged, unless it lands on the belt: look in the federation's book.",
        goal_note="Costs most in sets of five and more, and near a max.",
        cues=[StarterCue("Same thread of the shirt every time.")],
        drills=[
            StarterDrill("Chalk-mark bench press", "3 × 5 at 60 to 70%, one mark left on the shirt")
        ],
    ),
    StarterFault(
        name="Soft lockout",
        phase=Phase.LOCKOUT,
        see="At the top the elbows are still bent when the next rep begins or the bar goes back. "
        "Compare with the arms at the start of the set.",
        sight=sight_of(Family.BENCH, "lockout"),
        causes=[
            "Rushing to the next rep",
            "The load or the rep is past what the arms can finish",
            "Elbows that do not straighten fully: compare with an empty bar",
        ],
        breaks=Breaks.YES,
        breaks_note="Arms straight at the start and at the end. Somebody whose elbows never "
        "straighten fully is judged by their own straight; at a meet they tell the referee first.",
        goal_note="For a total every rep ends straight. In muscle work it may be left on purpose: "
        "then say so in the programme.",
        cues=[
            StarterCue("Punch the ceiling, then think of the next."),
            StarterCue("Finish the rep before you lower it."),
        ],
        drills=[StarterDrill("Close-grip bench press", "3 × 6 at 65 to 70%, 1 s at the top")],
    ),
]
