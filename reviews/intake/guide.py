"""Where the camera stands, as the pages of asking show it: `camera_views` with the names of lifts
and views."""

from collections.abc import Iterable
from typing import NamedTuple

from programming.movements.families import Family
from reviews.intake.camera_views import Angle, angles_of
from reviews.intake.models import Clip, View


class Place(NamedTuple):
    label: str
    angle: Angle


class Lift(NamedTuple):
    label: str
    places: list[Place]


def places_of(family: str) -> list[Place]:
    return [Place(View(angle.view).label, angle) for angle in angles_of(family)]


GUIDE = [Lift(family.label, places_of(family)) for family in Family]


def family_of(clips: Iterable[Clip]) -> str:
    """The lift that a question is about: that of its first clip with a movement."""
    movements = (clip.movement for clip in clips)
    return next((movement.family for movement in movements if movement), Family.OTHER)
