"""Faults of the squat, bar high or low on the back."""

from programming.movements.families import Family, Phase
from reviews.intake.camera_views import sight_of
from reviews.library.models import Breaks
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault
from reviews.library.starter.squat_setup import WALKOUT

PAUSE_SQUAT = StarterDrill("Pause squat", "3 × 4 at 65 to 70% of technical max, 2 s pause")
SLOW_SQUAT = StarterDrill("Squat with 3 s down", "3 × 5 at 60 to 70%, the same speed all the way")

SQUAT = [
    StarterFault(
        name="Short of depth",
        phase=Phase.TURNAROUND,
        see="Stop at the lowest frame. The top of the thigh at the hip has not gone below the top "
        "of the knee. Judge every rep: depth is often lost only in the last ones.",
        sight=sight_of(Family.SQUAT, "depth"),
        causes=[
            "The load is above what the lifter can control at the bottom",
            "The descent is slowed or stopped early out of caution",
            "Stance or shoes do not suit the lifter's build",
            "The lifter has no sense of where depth is",
        ],
        breaks=Breaks.YES,
        breaks_note="Full depth is part of the standard. From any view but the side, with the "
        "lens near knee height, call it “can't tell”. At a meet the federation's current book "
        "decides.",
        goal_note="For a competition total it comes before anything else. For strength or muscle, "
        "agree on one depth and keep it, so that loads can be compared.",
        cues=[
            StarterCue("Sit down to the low box."),
            StarterCue("Same hole every rep."),
            StarterCue("Crease below the knee, then up.", outside=False),
        ],
        drills=[
            StarterDrill("Box squat to depth", "3 × 5 at 55 to 65%, touch the box, do not rest"),
            PAUSE_SQUAT,
        ],
    ),
    StarterFault(
        name="Hips rise first",
        phase=Phase.ASCENT,
        see="In the first frames out of the bottom the hips go up while the bar hardly moves, and "
        "the trunk tips further forward than it was at the lowest point.",
        sight=sight_of(Family.SQUAT, "hips and trunk"),
        causes=[
            "The bar is ahead of mid-foot at the turnaround",
            "The brace goes on the way down",
            "More load than the legs can start from there",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="A small change of trunk angle is how many lifters come up. Call it when the "
        "lift turns into a bend at the hips, or when the bar stops or goes down again.",
        goal_note="For a total, work on it when it costs load. With a sore back, look at it first "
        "and hold the load until it is gone.",
        cues=[
            StarterCue("Shove the bar back into the wall behind you."),
            StarterCue("Chest and hips leave together.", outside=False),
            StarterCue("Push the floor away."),
        ],
        drills=[PAUSE_SQUAT, SLOW_SQUAT],
    ),
    StarterFault(
        name="Weight rolls to the toes",
        phase=Phase.DESCENT,
        see="The bar moves ahead of mid-foot on the way down. Heels get light or lift; the shoe's "
        "heel shows a gap to the floor.",
        sight=sight_of(Family.SQUAT, "bar over the foot"),
        causes=[
            "The knees go forward before the hips move",
            "The descent is faster than the lifter can balance",
            "Ankles, shoes or stance leave no room to stay over the foot",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="A light heel is a note. A step or a clear loss of balance is not to standard.",
        goal_note="Matters for every goal: what is lost here is paid for on the way up.",
        cues=[
            StarterCue("Three points of the shoe on the floor."),
            StarterCue("Bar over the laces."),
        ],
        drills=[SLOW_SQUAT],
    ),
    StarterFault(
        name="Knees come in",
        phase=Phase.ASCENT,
        see="From the front, one knee or both move inwards of the foot they stood over, most often "
        "just out of the bottom. Compare left and right, first rep and last.",
        sight=sight_of(Family.SQUAT, "knees over the feet"),
        causes=[
            "The load is above what the legs can start with",
            "The feet turn or roll inwards under load",
            "Stance too wide or too narrow for the lifter's hips",
        ],
        breaks=Breaks.NO,
        breaks_note="No rule of its own. Write it down when it grows with load or on one side.",
        goal_note="A little, on both sides and always the same, may be how this lifter squats. "
        "Work on it when it is one-sided, grows from rep to rep, or the knee hurts.",
        cues=[
            StarterCue("Spread the floor."),
            StarterCue("Knees follow the laces.", outside=False),
        ],
        drills=[PAUSE_SQUAT, StarterDrill("Split squat", "3 × 8 each side, light, no hurry")],
    ),
    StarterFault(
        name="Loose brace",
        phase=Phase.SETUP,
        see="No breath is taken before the descent, or it goes out on the way down. The trunk "
        "changes shape between the walk-out and the bottom.",
        sight=sight_of(Family.SQUAT, "hips and trunk"),
        causes=[
            "Breath taken into the chest only",
            "Set up in a hurry after the walk-out",
            "Belt so tight or so low that there is nothing to push against",
        ],
        breaks=Breaks.NO,
        breaks_note="Not judged by itself; the faults that follow from it are.",
        goal_note="Worth the time at every load: warm-up sets are where it is learnt.",
        cues=[
            StarterCue("Breathe in, push out against the belt all round."),
            StarterCue("Big air at the top, keep it to the top."),
        ],
        drills=[
            StarterDrill(
                "Breath and hold before each rep", "all warm-up sets, 2 s before going down"
            )
        ],
    ),
    StarterFault(
        name="Bar creeps down the back",
        phase=Phase.DESCENT,
        see="Compare where the bar lies after the walk-out and at the end of the set. It has slid "
        "down, or the hands and wrists carry it.",
        sight=sight_of(Family.SQUAT, "bar on the back"),
        causes=[
            "No shelf: the upper back is not tight when the bar goes on",
            "Hands so wide or wrists so bent that they cannot hold it",
            "A slippery shirt, no chalk on it",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="A little settling is a note. A bar that slides clearly during the rep is not "
        "to standard; at a meet the federation's current book says how far is too far.",
        goal_note="Matters most for bar low on the back and for long sets.",
        cues=[
            StarterCue("Bend the bar over your back."),
            StarterCue("Make the shelf, then lift the bar out."),
        ],
        drills=[WALKOUT],
    ),
]
