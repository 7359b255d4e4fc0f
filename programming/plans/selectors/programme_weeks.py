"""A programme to be read week by week, session by session in the order of days."""

from dataclasses import dataclass
from datetime import date

from programming.plans.models import PlannedSession, Programme
from programming.plans.selectors.programme_grid import Cell, Week, grid_of


@dataclass(frozen=True)
class ReadSession:
    session: PlannedSession
    weekday: str
    cells: list[Cell]
    is_today: bool


@dataclass(frozen=True)
class ReadWeek:
    week: Week
    sessions: list[ReadSession]


def programme_weeks(programme: Programme, *, unit: str) -> list[ReadWeek]:
    """The same numbers as in the grid, whose bounded number of statements it takes."""
    grid = grid_of(programme, unit=unit)
    weeks = []
    for at, week in enumerate(grid.weeks):
        sessions = []
        for band in grid.bands:
            session = band.sessions[at]
            if session is None:
                continue
            cells = [row.cells[at] for row in band.rows if row.cells[at].line]
            today = grid.today is not None and session.day == grid.today
            weekday = f"{session.day:%A}" if session.day else band.weekday
            sessions.append(ReadSession(session, weekday, cells, today))
        sessions.sort(key=lambda one: (one.session.day or date.min, one.session.position))
        weeks.append(ReadWeek(week, sessions))
    return weeks
