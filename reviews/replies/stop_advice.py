"""A reply that tells the athlete to stop a lift, beside a programme that still asks for it.

Reads nothing: the programme is handed in."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from athletes.local_time import long_date
from programming.models import PlannedSession
from programming.movements.families import Family

_LIFTS = {
    Family.DEADLIFT: r"pull(?:s|ing)?|deadlift(?:s|ing)?",
    Family.SQUAT: r"squat(?:s|ting)?",
    Family.BENCH: r"bench(?:ing|(?: |-)press(?:es|ing)?)?",
    Family.PRESS: r"(?:overhead |shoulder )?press(?:es|ing)?",
}
_LIFT = "|".join(_LIFTS.values())
# "Stop pulling with the arms" is about how. What ends there, or goes on with a time, is not.
_STOP = re.compile(
    r"\b(?:stop|avoid|skip|leave out|do not|don['\u2019]t|no(?: more)?)\s+"
    r"(?:(?:all|any|the|your|heavy|doing)\s+)*"
    rf"(?P<lifts>(?:{_LIFT})(?:(?:\s*,\s*|\s+(?:and|or)\s+)(?:{_LIFT}))*)"
    r"(?=\s*(?:$|[.,;:!?)]|(?:for|until|till|this|now|today|if|while|altogether|completely)\b))",
    re.IGNORECASE | re.MULTILINE,
)


@dataclass(frozen=True)
class Stop:
    """``said``: the words, as they stand in the reply."""

    said: str
    families: frozenset[Family]


def stops_in(texts: Iterable[str]) -> list[Stop]:
    """Where these texts say that a lift is to stop."""
    return [
        Stop(
            " ".join(match[0].split()),
            frozenset(
                family
                for family, words in _LIFTS.items()
                if re.search(rf"\b(?:{words})\b", _rest(match["lifts"], family), re.IGNORECASE)
            ),
        )
        for text in texts
        for match in _STOP.finditer(text)
    ]


def _rest(lifts: str, family: Family) -> str:
    """A bench press is no overhead press."""
    if family != Family.PRESS:
        return lifts
    return re.sub(_LIFTS[Family.BENCH], "", lifts, flags=re.IGNORECASE)


def question_about(stops: Iterable[Stop], sessions: Iterable[PlannedSession]) -> str:
    """Asks about the first that is planned all the same; "" where nothing is."""
    planned = [
        (line.movement, session.day)
        for session in sessions
        for line in session.prescriptions.all()
        if not line.held
    ]
    for stop in stops:
        for movement, day in planned:
            if movement.family in stop.families and day is not None:
                return (
                    f"You write \u201c{stop.said}\u201d, and {movement.name} is planned on "
                    f"{long_date(day)}. Is that meant? Hold or swap it in the programme, or send "
                    "the reply as it is."
                )
    return ""
