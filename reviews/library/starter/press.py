"""Faults of the overhead press."""

from programming.movements.families import Family, Phase
from reviews.intake.camera_views import sight_of
from reviews.library.models import Breaks
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault

PIN_PRESS = StarterDrill("Press from pins", "3 × 4 at 65 to 75%, bar at forehead height")

PRESS = [
    StarterFault(
        name="Elbows behind the bar",
        phase=Phase.SETUP,
        see="At the start the forearms slope: the elbows are behind the bar, and the first part of "
        "the press goes forward.",
        sight=sight_of(Family.PRESS, "bar path"),
        causes=[
            "Grip too wide or wrists bent far back",
            "Bar held in the fingers instead of over the forearm",
            "Stiff upper back or lats",
        ],
        breaks=Breaks.NO,
        breaks_note="Not judged by itself.",
        goal_note="Fix it with light loads first; it sets the path of everything above.",
        cues=[
            StarterCue("Forearms like pillars under the bar."),
            StarterCue("Look at the elbows past the bar.", outside=False),
        ],
        drills=[StarterDrill("Press with 2 s at the start", "3 × 5 at 60%, reset each rep")],
    ),
    StarterFault(
        name="Bar goes round the face",
        phase=Phase.ASCENT,
        see="Seen from the side the bar bends forward around the chin and comes back over the head "
        "late. It stalls at the forehead.",
        sight=sight_of(Family.PRESS, "bar path"),
        causes=[
            "The head stays in the way",
            "Elbows behind the bar at the start",
            "Weight on the toes",
        ],
        breaks=Breaks.NO,
        breaks_note="Not judged; it costs the rep before it breaks it.",
        goal_note="Worth it as soon as reps stall at the forehead.",
        cues=[
            StarterCue("Shave the nose with the bar."),
            StarterCue("Straight line to the lamp."),
            StarterCue("Head through the window when the bar has passed.", outside=False),
        ],
        drills=[PIN_PRESS],
    ),
    StarterFault(
        name="Leans back under the bar",
        phase=Phase.ASCENT,
        see="The ribs lift and the lower back arches while the bar goes up; from the side it "
        "turns into an incline press done standing.",
        sight=sight_of(Family.PRESS, "trunk"),
        causes=[
            "No brace, or seat and legs not tight",
            "The load is above what the shoulders can press",
            "Shoulders that do not reach overhead without the arch",
        ],
        breaks=Breaks.DEGREE,
        breaks_note="A small lean that stays the same is part of many presses. Call it when it "
        "grows during the rep.",
        goal_note="With a sore back, hold the load at the last one without it.",
        cues=[
            StarterCue("Zip up from belt buckle to ribs.", outside=False),
            StarterCue("Push the floor down while the bar goes up."),
        ],
        drills=[
            StarterDrill("Half-kneeling press", "3 × 8 each side, light"),
            PIN_PRESS,
        ],
    ),
    StarterFault(
        name="Knees help",
        phase=Phase.ASCENT,
        see="The knees bend and straighten as the bar leaves the shoulders. Step through the first "
        "frames: it is often small.",
        sight=sight_of(Family.PRESS, "knees"),
        causes=[
            "The load is above what a strict press can start",
            "Knees not locked before the press",
        ],
        breaks=Breaks.YES,
        breaks_note="In a strict press the legs stay straight. With the legs it is a push press, "
        "which is a movement of its own with its own max.",
        goal_note="If the legs are wanted, programme the push press.",
        cues=[
            StarterCue("Stand like a post in the ground."),
            StarterCue("Lock the knees, then press.", outside=False),
        ],
        drills=[StarterDrill("Seated press", "3 × 6 at 60 to 70% of the standing press")],
    ),
    StarterFault(
        name="Soft lockout overhead",
        phase=Phase.LOCKOUT,
        see="At the top the elbows are bent, or the bar is still in front of the ears when it "
        "starts down.",
        sight=sight_of(Family.PRESS, "lockout"),
        causes=[
            "Rushing to the next rep",
            "Head not brought through under the bar",
            "The load or the rep is past what the arms can finish",
        ],
        breaks=Breaks.YES,
        breaks_note="Arms straight, bar over the middle of the foot, standing still.",
        goal_note="Count only what was finished, whatever the goal.",
        cues=[
            StarterCue("Push the ceiling up."),
            StarterCue("Hold it still for a breath."),
        ],
        drills=[
            PIN_PRESS,
            StarterDrill("Hold overhead", "last rep of each set, 5 s"),
        ],
    ),
]
