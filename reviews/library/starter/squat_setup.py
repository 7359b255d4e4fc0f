"""Faults of the squat that are made before the bar goes down."""

from programming.movements.families import Family, Phase
from reviews.intake.camera_views import sight_of
from reviews.library.models import Breaks
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault

WALKOUT = StarterDrill(
    "Walkout and hold",
    "3 × 10 s at 80 to 90% of technical max, after warm-up, spotters and safeties, no squat",
)

SQUAT_SETUP = [
    StarterFault(
        name="Rushed setup",
        phase=Phase.SETUP,
        see="The first rep begins before the feet, the air and the bar are settled; between reps "
        "there is one short breath and the next descent. Compare the setup of rep 1 and the last.",
        sight=sight_of(Family.SQUAT, "setup"),
        causes=[
            "No fixed order of doing things before a rep",
            "Fear of the weight on the back, so it is got over with",
            "A walkout of many small steps that costs breath",
        ],
        breaks=Breaks.NO,
        breaks_note="A rushed setup is not a failed rep. At a meet the start waits for the "
        "signal, which a hurried lifter often misses; the federation's current book decides.",
        goal_note="Worth fixing for every goal: it costs nothing and later reps depend on it.",
        cues=[
            StarterCue("Still bar, then go."),
            StarterCue("Two steps, plant, air, down."),
        ],
        drills=[WALKOUT, StarterDrill("Singles with a full reset", "5 × 1 at 75%, rack each rep")],
    ),
    StarterFault(
        name="Overextended back",
        phase=Phase.SETUP,
        see="Before the descent the ribs point up and the lower back is hollow; on the way down "
        "the pelvis then rolls under, and the back moves through its whole range under load.",
        sight=sight_of(Family.SQUAT, "hips and trunk"),
        causes=[
            "“Chest up” taken as “bend the back backwards”",
            "Air held in the chest only",
            "The bar too low or the elbows forced up behind it",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="It breaks the standard when the back visibly changes shape during the rep. "
        "A steady arch that does not move is the lifter's own shape.",
        goal_note="With a sore back, look at it before anything else and keep the load down. A "
        "back that hurts is for a clinician, not for a cue.",
        cues=[
            StarterCue("Belt buckle and collar face the same wall."),
            StarterCue("Ribs down, then air.", outside=False),
        ],
        drills=[StarterDrill("Tempo squat, 4 s down", "3 × 4 at 55 to 65%, shape unchanged")],
    ),
    StarterFault(
        name="Grip too narrow to sit under",
        phase=Phase.SETUP,
        see="The wrists are bent far back, the elbows point up behind, the bar sits on the hands "
        "and not on the back; the shoulders or elbows look crammed.",
        sight=sight_of(Family.SQUAT, "grip and elbows"),
        causes=[
            "A grip copied from somebody with other shoulders",
            "Little shoulder range after much pressing",
            "The bar lower than the shoulders allow with this grip",
        ],
        breaks=Breaks.NO,
        breaks_note="It breaks nothing by itself; the bar that moves because of it may.",
        goal_note="For a total, the narrowest grip that does not hurt gives a tighter back. For "
        "muscle, a wider one costs nothing. Pain in shoulder or elbow: widen it and say so.",
        cues=[
            StarterCue("Bar rests on the back, hands only guard it."),
            StarterCue("Straight line from knuckles to forearm.", outside=False),
        ],
        drills=[StarterDrill("Bar hold in the rack", "4 × 20 s, one finger wider each set")],
    ),
    StarterFault(
        name="Stance against the goal",
        phase=Phase.SETUP,
        see="The stance is much wider or narrower than the lifter's hips and goal ask for: the "
        "hips stop short of depth, or the trunk has to fold, while another stance would not.",
        sight=sight_of(Family.SQUAT, "stance"),
        causes=[
            "A stance taken from somebody else",
            "Never tried in small steps",
            "Shoes that do not go with it",
        ],
        breaks=Breaks.NO,
        breaks_note="A stance breaks no standard. It is a new movement with its own max when it "
        "is changed by more than a few centimetres.",
        goal_note="For a competition total take the stance that lifts most to depth. For muscle "
        "choose freely; narrower asks more of the thighs. After a break, the comfortable one.",
        cues=[
            StarterCue("Feet where you would jump from."),
            StarterCue("Toes point where the knees go.", outside=False),
        ],
        drills=[StarterDrill("Stance ladder", "1 × 3 at 60% in each of four widths, film each")],
    ),
    StarterFault(
        name="Elbows swing up behind the bar",
        phase=Phase.DESCENT,
        see="On the way down or out of the bottom the elbows rise behind the bar and push it "
        "towards the neck; the upper back rounds under it.",
        sight=sight_of(Family.SQUAT, "bar on the back"),
        causes=[
            "The bar is held up by the arms",
            "The upper back is loose",
            "The trunk tips and the arms answer",
        ],
        breaks=Breaks.NO,
        breaks_note="Not a missed rep unless the bar moves on the back: see “Bar creeps down the "
        "back”.",
        goal_note="Matters most with a low bar and near the maximum.",
        cues=[
            StarterCue("Bend the bar round your back."),
            StarterCue("Pull the bar down into the shelf."),
        ],
        drills=[StarterDrill("Pause squat", "3 × 4 at 65 to 70% of technical max, 2 s pause")],
    ),
    StarterFault(
        name="Walkout wanders",
        phase=Phase.SETUP,
        see="Four or more steps, one foot ahead of the other, the bar swinging; the lift starts "
        "from feet that are not level.",
        sight=sight_of(Family.SQUAT, "setup"),
        causes=[
            "Hooks too high, so the bar is tiptoed out",
            "Looking for the stance with the weight already on the back",
        ],
        breaks=Breaks.NO,
        breaks_note="Uneven feet are not a failed rep; a step after the start signal is, at a "
        "meet. The federation's current book decides.",
        goal_note="Fix it for a total. It also spares breath in sets of many reps.",
        cues=[
            StarterCue("Back, out, done: three prints on the floor."),
            StarterCue("Chalk line under both toes."),
        ],
        drills=[WALKOUT],
    ),
]
