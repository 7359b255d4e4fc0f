"""What every change of a programme begins with: nobody else changed it, and it is not past."""

from collections.abc import Iterable
from datetime import date
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import Exists, F, OuterRef, QuerySet

from athletes.local_time import today_of
from athletes.models import User
from coachdesk.common.errors import Conflict, Invalid
from programming.logs.models import LoggedSet
from programming.plans.models import PlannedSession, Programme

STALE = "This programme was changed elsewhere since you opened it. Look at it again first."


def revise(programme: Programme, *, seen: int) -> Programme:
    """As `lock`; raises Invalid, too, where the programme has ended."""
    fresh = lock(programme, seen=seen)
    if fresh.ended_at is not None:
        raise Invalid("This programme has ended; what was asked and done stays as it was.")
    return fresh


def lock(programme: Programme, *, seen: int) -> Programme:
    """The programme, locked and one revision further. Works only inside a transaction.

    Raises Conflict where ``seen`` is not the current revision.
    """
    if not transaction.get_connection().in_atomic_block:
        raise RuntimeError("lock() belongs inside the transaction that changes the programme.")
    mine = Programme.objects.filter(pk=programme.pk, revision=seen)
    if not mine.update(revision=F("revision") + 1):
        raise Conflict(STALE)
    return Programme.objects.select_related("athlete").get(pk=programme.pk)


def today_for(programme: Programme) -> date | None:
    """The date where the athlete is; a template has no today."""
    return today_of(programme.athlete) if isinstance(programme.athlete, User) else None


def with_training(sessions: QuerySet[PlannedSession]) -> QuerySet[PlannedSession]:
    """Each with ``is_trained``: a set of it was logged."""
    by_session = LoggedSet.objects.filter(session__planned=OuterRef("pk"))
    by_line = LoggedSet.objects.filter(prescription__session=OuterRef("pk"))
    trained: dict[str, Any] = {"is_trained": Exists(by_session) | Exists(by_line)}
    return sessions.annotate(**trained)


def why_closed(session: PlannedSession, today: date | None) -> str:
    """Why a session of ``with_training`` can no longer be changed, or ""."""
    if session.is_trained:
        return "Sets of it are logged: what was prescribed stays beside what was done."
    if today is not None and session.day is not None and session.day < today:
        return "It is past: what was prescribed stays as it was."
    return ""


def opened(programme: Programme, sessions: Iterable[PlannedSession]) -> None:
    """Raises Invalid if one of these may no longer be changed."""
    today = today_for(programme)
    for session in sessions:
        if why := why_closed(session, today):
            raise Invalid(f"{place_of(session)} stays as it is. {why}")


def session_of(programme: Programme, pk: UUID) -> PlannedSession:
    """A session of this programme that may be changed. Raises Invalid."""
    session = with_training(programme.sessions.all()).filter(pk=pk).first()
    if session is None:
        raise Invalid("That session is not in the programme any more.")
    opened(programme, [session])
    return session


def place_of(session: PlannedSession) -> str:
    """ "Mon 30 Nov", or its name and week where it has no date."""
    return f"{session.day:%a} {session.day.day} {session.day:%b}" if session.day else str(session)
