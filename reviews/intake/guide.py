"""Where the camera stands, and what each view can show. One table for the page and its drawing.

Common coaching practice, no published source; the check of depth follows from what a rule book
judges (the hip crease against the top of the knee), which only a lens at that height, square to
the lifter, can show.
"""

from typing import NamedTuple

from reviews.intake.models import View


class Angle(NamedTuple):
    view: str
    label: str
    shows: str
    place: str


GUIDE = [
    Angle(
        View.SIDE,
        View.SIDE.label,
        "Depth, bar path, hips against shoulders, lockout.",
        "Square to the side, lens at knee height for depth.",
    ),
    Angle(
        View.QUARTER,
        View.QUARTER.label,
        "The order of hips and shoulders, back, feet. Not depth.",
        "Between side and front, lens at hip height.",
    ),
    Angle(
        View.FRONT,
        View.FRONT.label,
        "Knees, feet, a bar that tips, elbows, uneven lockout.",
        "Straight ahead, lens at hip height.",
    ),
    Angle(
        View.REAR,
        View.REAR.label,
        "Hips that shift, heels that lift, a bar that tips.",
        "Straight behind, lens at hip height.",
    ),
]
