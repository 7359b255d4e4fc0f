"""Bringing an old log in: all of it or nothing. Each public function is one transaction."""

from collections.abc import Mapping as Dict
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from uuid import uuid4

from django.db import transaction

from athletes.local_time import today_of, zone_of
from athletes.models import User
from coachdesk.common.errors import Invalid
from programming.logs.csv.rows import Lift, Parsed, Session
from programming.logs.models import BodyWeight, LoggedSession, LoggedSet
from programming.logs.services.mark_dirty_days import mark_days_dirty
from programming.logs.unusual_load import UnusualLoad, known_loads, question_about
from programming.movements.families import Family
from programming.movements.models import Movement
from programming.permissions import logged_sessions_of, movements_visible_to

NEW = "new"  # in place of a movement's id: make one of that name


@dataclass(frozen=True)
class ImportResult:
    sessions: int
    sets: int
    weights: int
    days_left_out: int


def known_days(athlete: User, parsed: Parsed) -> set[date]:
    """Days of the file that the log has a session on already: they are left out, so that the same
    file twice is the same as once."""
    days = {session.day for session in parsed.sessions.values()}
    if not days:
        return set()
    mine = logged_sessions_of(athlete).filter(day__range=(min(days), max(days)))
    return days & set(mine.values_list("day", flat=True))


def questioned_loads(athlete: User, parsed: Parsed, chosen: Dict[str, str]) -> list[str]:
    """What to ask before the file comes in: for each movement of the log whose heaviest load in
    the file is far above what is known of it."""
    left_out = known_days(athlete, parsed)
    heaviest: dict[str, Lift] = {}
    for session in parsed.sessions.values():
        for lift in session.sets if session.day not in left_out else []:
            before = heaviest.setdefault(lift.movement, lift)
            if (lift.load_kg or 0) > (before.load_kg or 0):
                heaviest[lift.movement] = lift
    known = known_loads(athlete=athlete, day=today_of(athlete)) if heaviest else {}
    asked = []
    for name, lift in heaviest.items():
        pick = chosen.get(name, "")
        most = known.get(int(pick)) if pick.isdecimal() else None
        if lift.load_kg and (question := question_about(lift.load_kg, most, lift.unit)):
            asked.append(f"{name}: {question}")
    return asked


@transaction.atomic
def import_sessions(
    *, athlete: User, parsed: Parsed, chosen: Dict[str, str], load_confirmed: bool = False
) -> ImportResult:
    """Every session of the file whose day the log does not know yet, and every body weight.

    ``chosen``: for each movement's name the id of one of the athlete's, or NEW. Raises Invalid,
    and then nothing is stored; so it is when a row has an error, and (UnusualLoad) when a load is
    far above what is known and not confirmed.
    """
    if parsed.errors:
        raise Invalid("Some rows cannot be read. Put them right in the file and send it again.")
    if not load_confirmed and (asked := questioned_loads(athlete, parsed, chosen)):
        raise UnusualLoad(" ".join(asked))
    movements = _movements(athlete, parsed, chosen)
    known = known_days(athlete, parsed)
    sessions: list[LoggedSession] = []
    sets: list[LoggedSet] = []
    for source in parsed.sessions.values():
        if source.day not in known:
            session = _session(athlete, source, len(sessions))
            sessions.append(session)
            sets += _sets(session, source, movements)
    LoggedSession.objects.bulk_create(sessions, batch_size=500)
    LoggedSet.objects.bulk_create(sets, batch_size=500)
    _weigh(athlete, parsed)
    mark_days_dirty(athlete, sorted({session.day for session in sessions}))
    return ImportResult(len(sessions), len(sets), len(parsed.weights), len(known))


def _movements(athlete: User, parsed: Parsed, chosen: Dict[str, str]) -> dict[str, Movement]:
    mine = {str(one.pk): one for one in movements_visible_to(athlete)}
    found: dict[str, Movement] = {}
    for name in parsed.movements:
        pick = chosen.get(name, "")
        if pick == NEW:
            found[name], _ = Movement.objects.get_or_create(
                athlete=athlete,
                name=name,
                defaults={"club": athlete.club, "family": Family.OTHER},
            )
        elif pick in mine:
            found[name] = mine[pick]
        else:
            raise Invalid(f"Choose a movement for “{name}”.")
    return found


def _session(athlete: User, source: Session, number: int) -> LoggedSession:
    """The hour is not in the file: noon where the athlete is, two of a day in the file's order."""
    noon = datetime.combine(source.day, time(12), tzinfo=zone_of(athlete)).astimezone(UTC)
    start = noon + timedelta(seconds=number % 3600)
    return LoggedSession(
        id=uuid4(),
        athlete=athlete,
        day=source.day,
        session_rpe=source.rpe,
        minutes=source.minutes,
        note=source.note,
        started_at=start,
        finished_at=start + timedelta(minutes=source.minutes or 0),
    )


def _sets(
    session: LoggedSession, source: Session, movements: dict[str, Movement]
) -> list[LoggedSet]:  # fmt: skip
    return [
        LoggedSet(
            id=uuid4(),
            session=session,
            movement=movements[one.movement],
            position=place,
            load_kg=one.load_kg,
            load_unit=one.unit,
            reps=one.reps,
            missed_reps=one.missed,
            rpe=one.rpe,
            note=one.note,
            done_at=session.started_at,
        )
        for place, one in enumerate(source.sets, 1)
    ]


def _weigh(athlete: User, parsed: Parsed) -> None:
    rows = [BodyWeight(athlete=athlete, day=day, kg=kg) for day, kg in parsed.weights.items()]
    BodyWeight.objects.bulk_create(
        rows, update_conflicts=True, unique_fields=["athlete", "day"], update_fields=["kg"]
    )
