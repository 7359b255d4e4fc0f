"""Faults of the bench press in the setup and along the bar's path."""

from programming.movements.families import Family, Phase
from reviews.intake.camera_views import sight_of
from reviews.library.models import Breaks
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault

SLOW_BENCH = StarterDrill("Bench press, 3 s down", "3 × 5 at 60 to 70%, same touch point")
LONG_PAUSE = StarterDrill("Long-pause bench press", "3 × 4 at 65 to 70%, 3 s on the chest")

BENCH_SETUP = [
    StarterFault(
        name="Rushed or slack setup",
        phase=Phase.SETUP,
        see="The bar is taken out before feet, seat and shoulder blades are in place; the lifter "
        "shuffles under it, or the chest sinks as soon as the arms are straight.",
        sight=sight_of(Family.BENCH, "setup and feet"),
        causes=[
            "No fixed order of setting up",
            "The bar taken out alone from hooks that are too far or too high",
            "The tension of the first set not rebuilt for the next",
        ],
        breaks=Breaks.NO,
        breaks_note="A slack setup is not a failed rep. What it leads to may be.",
        goal_note="Worth it for every goal: a stable base makes reps that can be compared.",
        cues=[
            StarterCue("Pull the bar out, do not press it out."),
            StarterCue("Feet, seat, shoulders, then hands."),
        ],
        drills=[StarterDrill("Singles from a full setup", "6 × 1 at 70%, rack and set up anew")],
    ),
    StarterFault(
        name="Elbows ahead of the bar",
        phase=Phase.TURNAROUND,
        see="At the chest the forearms are not upright: the elbows are nearer to the feet than "
        "the bar is, and the bar has to come back before it goes up.",
        sight=sight_of(Family.BENCH, "elbows under the bar"),
        causes=[
            "Elbows tucked more than the touch point asks for",
            "Touching too high on the chest for that tuck",
            "“Elbows in” taken as a rule for everybody",
        ],
        breaks=Breaks.NO,
        breaks_note="It breaks nothing by itself; the bar that sinks or tips because of it may.",
        goal_note="For a total it costs load at the chest. If the front of the shoulder pinches, "
        "change it first and keep the load down.",
        cues=[
            StarterCue("Bar stacked over the bones of the forearm."),
            StarterCue("Touch where the forearms stand upright."),
        ],
        drills=[LONG_PAUSE, StarterDrill("Bench press from pins", "3 × 4 at 65%, from the chest")],
    ),
    StarterFault(
        name="Grip too narrow",
        phase=Phase.SETUP,
        see="Seen from the head end or at 45°, the forearms lean inwards from elbow to hand at the "
        "chest: the hands are nearer together than the elbows.",
        sight=sight_of(Family.BENCH, "grip width"),
        causes=[
            "A grip copied from another lift or lifter",
            "A wider one once hurt, and it was never tried again in small steps",
        ],
        breaks=Breaks.NO,
        breaks_note="A grip breaks nothing inside the marks of the rule book (81 cm between "
        "index fingers in the text read). A new grip is a new movement with its own max.",
        goal_note="For a total the wider, shorter way usually lifts more; shoulders decide. For "
        "muscle in the triceps, narrow is a choice.",
        cues=[
            StarterCue("Forearms like two posts under the bar."),
            StarterCue("Little finger to the ring."),
        ],
        drills=[StarterDrill("Grip ladder", "1 × 5 at 60% in each of four widths, film each")],
    ),
    StarterFault(
        name="Wrists bent back",
        phase=Phase.SETUP,
        see="The bar lies towards the fingers, behind the line of the forearm; the knuckles face "
        "the lifter's head.",
        sight=sight_of(Family.BENCH, "elbows under the bar"),
        causes=["The bar laid high in the hand", "A loose hand", "Wraps worn below the joint"],
        breaks=Breaks.NO,
        breaks_note="Not a failed rep.",
        goal_note="If the wrist hurts, fix it before anything heavy.",
        cues=[
            StarterCue("Bar low in the palm, over the forearm."),
            StarterCue("Squeeze the ink out of the bar."),
        ],
        drills=[SLOW_BENCH],
    ),
    StarterFault(
        name="Feet lose the floor",
        phase=Phase.ASCENT,
        see="A heel lifts, a foot slides or dances during the press; the push from the legs is "
        "gone when it is needed.",
        sight=sight_of(Family.BENCH, "setup and feet"),
        causes=[
            "Feet placed where they cannot push",
            "A bench that is too high for the lifter",
            "Legs forgotten once the bar is out",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="In training a note. At a meet feet that move off flat are a failed lift; the "
        "federation's current book decides.",
        goal_note="For a total it must hold. Otherwise it is free strength left lying.",
        cues=[
            StarterCue("Push the floor towards the wall behind you."),
            StarterCue("Shoes glued flat."),
        ],
        drills=[StarterDrill("Feet-up bench press, then feet down", "2 × 6 each, light")],
    ),
    StarterFault(
        name="Head lifts",
        phase=Phase.ASCENT,
        see="The head leaves the bench during the press, and the upper back usually with it.",
        sight=sight_of(Family.BENCH, "head and shoulder blades"),
        causes=["Looking for the bar", "Straining with the neck on the last reps"],
        breaks=Breaks.DEGREE,
        breaks_note="In training a note. At a meet a raised head is a failed lift in books that "
        "ask for head, shoulders and seat on the bench; the current one decides.",
        goal_note="Matters for a total. Neck pain: stop and have it looked at.",
        cues=[
            StarterCue("Press yourself into the bench."),
            StarterCue("Eyes on one spot of the ceiling."),
        ],
        drills=[SLOW_BENCH],
    ),
    StarterFault(
        name="Pressed straight up",
        phase=Phase.ASCENT,
        see="From the chest the bar goes straight up or towards the feet, and stalls half-way "
        "with the shoulders far from under it.",
        sight=sight_of(Family.BENCH, "bar path"),
        causes=[
            "Pressing from the place it touched and not towards the shoulders",
            "Shoulder blades that slide forward",
        ],
        breaks=Breaks.NO,
        breaks_note="No path is prescribed. A bar that goes down again during the press is a "
        "failed lift.",
        goal_note="Costs load near the maximum; of little weight for muscle.",
        cues=[
            StarterCue("Up and back, over the eyes."),
            StarterCue("Throw the bar at the rack."),
        ],
        drills=[StarterDrill("Bench press from a two-board", "3 × 4 at 80%, drive up and back")],
    ),
]
