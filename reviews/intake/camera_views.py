"""What a camera can show of a lift, by lift and by where it stands: the one table.

The guide to filming, the angle a coach asks for, the workbench, the views of the starter library's
faults and the check of rep calls all read it. Pure: lifts, views and marks are the plain values of
`Family`, `View` and `Sight`.

Common coaching practice, no published source, except depth: a rule book judges the hip crease
against the top of the knee, which only a lens at that height, square to the lifter, can show.
"""

from typing import NamedTuple

YES, PARTLY, NO = "yes", "partly", "no"
VIEWS = ("side", "45", "front", "rear")
_MARKS = {"Y": YES, "P": PARTLY, "N": NO}
_MOST = {YES: 4, PARTLY: 2, NO: 2}  # named in a sentence; the table has the most important first

# What there is to see -> one letter for each of VIEWS. On a bench "front" is the foot end of it,
# "rear" the head end.
_TABLE: dict[str, dict[str, str]] = {
    "squat": {
        "depth": "YNNN",
        "hips and trunk": "YPNN",
        "bar over the foot": "YPPP",
        "knees over the feet": "NPYP",
        "level hips and bar": "NPYY",
        "heels and toes": "YYPP",
        "bar on the back": "YPNY",
        "grip and elbows": "PYNY",
        "lockout": "YPNN",
        "stance": "PYYY",
        "speed down": "YYPP",
        "setup": "YYYY",
    },
    "bench": {
        "bar path": "YPNN",
        "hips on the bench": "YPNN",
        "pause on the chest": "YYPN",
        "level bar": "NPYY",
        "elbows under the bar": "YYNN",
        "head and shoulder blades": "YYNN",
        "lockout": "YYYP",
        "grip width": "NPYY",
        "setup and feet": "YYPN",
    },
    "deadlift": {
        "back and shoulders": "YPNN",
        "bar path": "YPNN",
        "hips at the start": "YYNN",
        "lockout": "YYPN",
        "knees over the feet": "NPYY",
        "slack in the bar": "YYPN",
        "arms": "PYYN",
        "setup": "YYYP",
        "stop between reps": "YYYY",
    },
    "press": {
        "bar path": "YPNN",
        "trunk": "YPNN",
        "lockout": "YYPP",
        "level bar": "NPYY",
        "balance over the feet": "YPNN",
        "knees": "YYPN",
        "grip width": "NPYY",
        "bar on the shoulders": "YYNN",
        "way down": "YYYN",
    },
    "other": {
        "bar path": "YPNN",
        "trunk": "YPNN",
        "level bar": "NPYY",
        "feet": "PYYY",
    },
}
# What decides a rep and one view alone can show.
_DECIDES = {"squat": "depth"}

_PLACES: dict[str, tuple[str, str, str, str]] = {
    "squat": (
        "Square to the side, lens at knee height for depth.",
        "Between side and front, lens at hip height.",
        "Straight ahead, lens at hip height.",
        "Straight behind, lens at hip height.",
    ),
    "bench": (
        "Square to the side, lens at bench height.",
        "Between the side and the foot end, lens just above the bench.",
        "From the foot end, in line with the bench.",
        "From the head end, in line with the bench, clear of rack and spotter.",
    ),
    "deadlift": (
        "Square to the side, lens at knee height.",
        "Between side and front, lens at hip height.",
        "Straight ahead, lens at hip height.",
        "Straight behind, lens at hip height.",
    ),
    "press": (
        "Square to the side, lens at chest height.",
        "Between side and front, lens at chest height.",
        "Straight ahead, lens at chest height.",
        "Straight behind, lens at chest height.",
    ),
}
_PLACES["other"] = _PLACES["deadlift"]


class Angle(NamedTuple):
    """One place of the camera for one lift, in words."""

    view: str
    shows: str
    place: str


def sight_of(family: str, what: str) -> dict[str, str]:
    """What each view can show of one thing: the shape of `Fault.sight`."""
    letters = _TABLE[family][what]
    return {view: _MARKS[letter] for view, letter in zip(VIEWS, letters, strict=True)}


def angles_of(family: str) -> list[Angle]:
    """All places for a lift, in the order of VIEWS."""
    places = zip(VIEWS, _PLACES[family], strict=True)
    return [Angle(view, shows(family, view), place) for view, place in places]


def shows(family: str, view: str) -> str:
    """What a view shows of a lift, what partly and what not, the most important of each.
    "" where it is not said where the camera stood."""
    if view not in VIEWS:
        return ""
    whats = {
        mark: [what for what in _TABLE[family] if sight_of(family, what)[view] == mark][:most]
        for mark, most in _MOST.items()
    }
    starts = {YES: "", PARTLY: "Partly ", NO: "Not "}
    parts = [f"{starts[mark]}{', '.join(names)}." for mark, names in whats.items() if names]
    return " ".join(part[0].upper() + part[1:] for part in parts)


def hidden_decider(family: str, view: str) -> str:
    """What decides a rep of this lift and a camera there cannot show; "" when there is nothing."""
    what = _DECIDES.get(family, "")
    return what if what and view in VIEWS and sight_of(family, what)[view] == NO else ""
