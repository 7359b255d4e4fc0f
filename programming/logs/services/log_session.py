"""A session of the athlete's log: begun, finished, taken out.

Ids and revisions come from the phone. Sending the same thing twice is the same as once, and an
older copy that arrives after a newer one changes nothing. Each public function is one transaction.
"""

from datetime import date, datetime, timedelta
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from athletes.local_time import day_at
from athletes.models import User
from coachdesk.common.errors import Invalid, NotFound
from programming.logs.models import LoggedSession, Removed
from programming.logs.services.mark_dirty_days import mark_days_dirty
from programming.permissions import logged_sessions_of, planned_sessions_of

# A phone's clock may be wrong by hours; nothing was lifted later than that.
CLOCK_SLACK = timedelta(hours=12)


class Gone(Exception):
    """It was taken out of the log by a newer change; this copy came late."""


@transaction.atomic
def put_session(
    *,
    athlete: User,
    session_id: UUID,
    revision: int,
    started_at: datetime,
    planned: UUID | None = None,
    day: date | None = None,
    **facts: Any,
) -> LoggedSession:
    """The session as it is stored now: by this change, or by a newer one that came before it.

    ``day`` overrides the athlete's local date of ``started_at``, for a session logged later. The
    other facts are those of `SessionIn`.

    Raises Gone, NotFound (somebody else's id) or Invalid.
    """
    refuse_late(session_id, revision)
    started_at = not_ahead(started_at)
    day = day or day_at(athlete, started_at)
    if day > day_at(athlete, timezone.now() + CLOCK_SLACK):
        raise Invalid("A session cannot be logged before its day.")
    plans = planned_sessions_of(athlete)
    if facts.get("finished_at"):
        facts["finished_at"] = not_ahead(facts["finished_at"])
    # A plan that was taken away meanwhile must not cost what was lifted.
    facts["planned"] = plans.filter(pk=planned).first() if planned else None
    facts |= {"day": day, "started_at": started_at, "revision": revision}
    session, new = LoggedSession.objects.select_for_update().get_or_create(
        pk=session_id, defaults={**facts, "athlete": athlete}
    )
    if session.athlete_id != athlete.pk:
        raise NotFound
    if not new:
        if session.revision >= revision:
            return session
        mark_days_dirty(athlete, [session.day])
        for name, value in facts.items():
            setattr(session, name, value)
        session.save()
    mark_days_dirty(athlete, [day])
    return session


@transaction.atomic
def remove_session(*, athlete: User, session_id: UUID, revision: int) -> None:
    """Take a session and its sets out of the log. Raises NotFound, or Gone where it is out."""
    refuse_late(session_id, revision)
    session = logged_sessions_of(athlete).select_for_update().filter(pk=session_id).first()
    if session is None:
        raise NotFound
    if session.revision > revision:
        return
    for set_id, last in session.sets.values_list("pk", "revision"):
        remember_removed(athlete, set_id, last)
    remember_removed(athlete, session.pk, revision)
    session.delete()
    mark_days_dirty(athlete, [session.day])


def not_ahead(moment: datetime) -> datetime:
    """The moment, or now where the phone's clock runs ahead by more than it may."""
    now = timezone.now()
    return now if moment > now + CLOCK_SLACK else moment


def refuse_late(pk: UUID, revision: int) -> None:
    """Raise Gone when ``pk`` was taken out at this revision or later; else it may come back."""
    removed = Removed.objects.select_for_update().filter(pk=pk).first()
    if removed is None:
        return
    if removed.revision >= revision:
        raise Gone
    removed.delete()


def remember_removed(athlete: User, pk: UUID, revision: int) -> None:
    Removed.objects.update_or_create(pk=pk, defaults={"athlete": athlete, "revision": revision})
