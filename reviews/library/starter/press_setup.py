"""Faults of the overhead press in the setup and on the way."""

from programming.movements.families import Family, Phase
from reviews.intake.camera_views import sight_of
from reviews.library.models import Breaks
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault

PIN_PRESS = StarterDrill("Press from pins", "3 × 4 at 65 to 75%, bar at forehead height")
SLOW_PRESS = StarterDrill("Overhead press, 3 s down", "3 × 5 at 60 to 70%")

PRESS_SETUP = [
    StarterFault(
        name="Slack shelf",
        phase=Phase.SETUP,
        see="The bar rests on the hands in front of the chest; as the press begins it sinks "
        "before it rises.",
        sight=sight_of(Family.PRESS, "bar on the shoulders"),
        causes=["Elbows hanging", "No air held", "The bar taken out with the arms alone"],
        breaks=Breaks.NO,
        breaks_note="Not a failed rep.",
        goal_note="Costs load for every goal.",
        cues=[
            StarterCue("Carry the bar on a shelf."),
            StarterCue("Tight as under a squat, then press."),
        ],
        drills=[
            StarterDrill(
                "Front rack hold", "4 × 15 s at 90 to 100%, pins just under the bar, no press"
            )
        ],
    ),
    StarterFault(
        name="Grip too wide",
        phase=Phase.SETUP,
        see="From the front the forearms lean outwards from elbow to hand at the start: the hands "
        "are wider than the elbows.",
        sight=sight_of(Family.PRESS, "grip width"),
        causes=["The bench press grip carried over", "Little wrist or shoulder range"],
        breaks=Breaks.NO,
        breaks_note="Not a failed rep. A new grip is a new movement with its own max.",
        goal_note="Narrower usually presses more; shoulders decide.",
        cues=[
            StarterCue("Forearms like two posts under the bar."),
            StarterCue("Thumbs just outside the shoulders.", outside=False),
        ],
        drills=[StarterDrill("Grip ladder", "1 × 5 at 60% in each of three widths, film each")],
    ),
    StarterFault(
        name="Uneven press overhead",
        phase=Phase.ASCENT,
        see="From the front one hand leads and the bar tips; at the top the shoulders are not "
        "level.",
        sight=sight_of(Family.PRESS, "level bar"),
        causes=["Hands not level on the bar", "One side weaker or guarded", "Feet not level"],
        breaks=Breaks.DEGREE,
        breaks_note="Nobody is even. Call it when it grows with the load.",
        goal_note="New, or with pain: stop loading it and have it looked at.",
        cues=[
            StarterCue("Both ends of the bar leave together."),
            StarterCue("Hands even on the rings."),
        ],
        drills=[StarterDrill("One-arm dumbbell press", "3 × 8 a side, weaker one first")],
    ),
    StarterFault(
        name="Weight rolls to the toes",
        phase=Phase.ASCENT,
        see="As the bar passes the face the heels get light or the lifter steps after it.",
        sight=sight_of(Family.PRESS, "balance over the feet"),
        causes=["The bar goes forward round the face", "The hips are not under the bar"],
        breaks=Breaks.DEGREE,
        breaks_note="A step ends the rep where the press is judged; else a note.",
        goal_note="Balance before load.",
        cues=[
            StarterCue("Heavy heels, bar over the laces."),
            StarterCue("Head through the window as it passes."),
        ],
        drills=[SLOW_PRESS, PIN_PRESS],
    ),
    StarterFault(
        name="Stopped short on the way down",
        phase=Phase.RETURN,
        see="Between reps the bar comes down only to the chin or the forehead.",
        sight=sight_of(Family.PRESS, "way down"),
        causes=["Sets done for the count", "The start from the shoulder is the weak part"],
        breaks=Breaks.DEGREE,
        breaks_note="Agree on the start. Where it is the shoulder, a short rep is not to standard.",
        goal_note="For muscle a part of the range is a choice, and then another movement.",
        cues=[
            StarterCue("Touch the shelf every time."),
            StarterCue("Every rep is rep one."),
        ],
        drills=[StarterDrill("Press with a stop", "3 × 5 at 65%, 1 s on the shoulders")],
    ),
]
