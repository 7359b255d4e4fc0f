"""An athlete's log as a file (RFC 4180), for whoever may read it: what `services` reads back is
the same log."""

import csv
import io
from collections.abc import Iterator
from itertools import groupby

from django.db.models import QuerySet
from django.http import StreamingHttpResponse

from athletes.local_time import today_of
from athletes.models import User
from coachdesk.common.units import as_typed, shown
from programming.logs.csv.cells import escape_cell
from programming.logs.csv.columns import FIELDS
from programming.logs.models import BodyWeight, LoggedSession, LoggedSet
from programming.logs.schemas import plain
from programming.permissions import body_weights_visible_to, logged_sessions_visible_to

HEADER = [name for name in FIELDS if name != "sets"]
BOM = "\ufeff"  # without it older spreadsheets take UTF-8 for Windows-1252


def lines(
    *, athlete: User, sessions: QuerySet[LoggedSession], weights: QuerySet[BodyWeight]
) -> Iterator[str]:
    """RFC 4180 lines, the header first, a set a row, a body weight a row, by day. Loads stand in
    the unit they were typed in."""
    yield BOM + _line(HEADER)
    sets = LoggedSet.objects.filter(session__in=sessions).select_related("movement", "session")
    ordered = sets.order_by("session__day", "session__started_at", "session", "position", "done_at")
    number, day = 0, None
    for session, rows in groupby(ordered.iterator(chunk_size=2000), key=lambda row: row.session):
        number = number + 1 if session.day == day else 1
        day = session.day
        for place, row in enumerate(rows):
            yield _set(row, session, number, first=place == 0)
    for weight in weights.order_by("day"):
        cells = {"date": weight.day.isoformat(), "body weight": shown(weight.kg, athlete.unit)}
        yield _row({**cells, "unit": athlete.unit})


def _set(row: LoggedSet, session: LoggedSession, number: int, *, first: bool) -> str:
    about = {
        "session rpe": plain(session.session_rpe) or "",
        "minutes": str(session.minutes or ""),
        "session note": session.note,
    }
    return _row(
        {
            "date": session.day.isoformat(),
            "session": str(number),
            "movement": row.movement.name,
            "load": "" if row.load_kg is None else as_typed(row.load_kg, row.load_unit),
            "unit": row.load_unit,
            "reps": str(row.reps),
            "missed": str(row.missed_reps or ""),
            "rpe": plain(row.rpe) or "",
            "note": row.note,
            **(about if first else {}),
        }
    )


def _row(cells: dict[str, str]) -> str:
    return _line([escape_cell(cells.get(name, "")) for name in HEADER])


def _line(cells: list[str]) -> str:
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerow(cells)
    return out.getvalue()


def file_of(*, reader: User, athlete: User) -> StreamingHttpResponse:
    """As text/csv (RFC 4180), an attachment named by the athlete's day."""
    sessions = logged_sessions_visible_to(reader).filter(athlete=athlete)
    weights = body_weights_visible_to(reader).filter(athlete=athlete)
    response = StreamingHttpResponse(
        lines(athlete=athlete, sessions=sessions, weights=weights),
        content_type="text/csv; charset=utf-8; header=present",
    )
    name = f"training-log-{today_of(athlete).isoformat()}.csv"
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
