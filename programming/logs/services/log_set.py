"""One set of a session: logged, changed, taken out. Each public function is one transaction."""

from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.db import transaction

from athletes.models import Unit, User
from coachdesk.common.errors import Invalid, NotFound
from programming.limits import load_in_kg
from programming.logs.models import LoggedSession, LoggedSet
from programming.logs.services.log_session import not_ahead, refuse_late, remember_removed
from programming.logs.services.mark_dirty_days import mark_days_dirty
from programming.logs.unusual_load import Attempt, question
from programming.permissions import logged_sessions_of, movements_visible_to, prescriptions_of

MOST_SETS = 200  # of one session: beyond it something is sending by itself


@transaction.atomic
def put_set(
    *,
    athlete: User,
    session_id: UUID,
    set_id: UUID,
    revision: int,
    load_confirmed: bool = False,
    **typed: Any,
) -> LoggedSet:
    """The set as it is stored now: by this change, or by a newer one that came before it. ``typed``
    is what `SetIn` takes; ``load_confirmed``: the load is meant, however far above what is known.

    Raises Gone (training.py), NotFound (not this athlete's session or set) or Invalid, also with
    the question about a load that is far above what is known and not confirmed.
    """
    session = _session(athlete, session_id)
    refuse_late(set_id, revision)
    stored = session.sets.filter(pk=set_id).first()
    if stored is None and session.sets.count() >= MOST_SETS:
        raise Invalid(f"A session holds {MOST_SETS} sets at most.")
    facts = {**_facts(athlete, **typed), "revision": revision}
    if not load_confirmed and (stored is None or stored.revision < revision):
        _question_load(session, stored, facts)
    row, new = LoggedSet.objects.select_for_update().get_or_create(
        pk=set_id, defaults={**facts, "session": session}
    )
    if row.session_id != session.pk:
        raise NotFound
    if not new:
        if row.revision >= revision:
            return row
        for name, value in facts.items():
            setattr(row, name, value)
        row.save()
    mark_days_dirty(athlete, [session.day])
    return row


@transaction.atomic
def remove_set(*, athlete: User, session_id: UUID, set_id: UUID, revision: int) -> None:
    """Take a set out. A set that never arrived is out as well, so that it cannot arrive late.

    Raises NotFound where it belongs to somebody else.
    """
    session = _session(athlete, session_id)
    row = LoggedSet.objects.select_for_update().filter(pk=set_id).first()
    if row is not None and row.session_id != session.pk:
        raise NotFound
    if row is not None and row.revision > revision:
        return
    remember_removed(athlete, set_id, revision)
    if row is not None:
        row.delete()
        mark_days_dirty(athlete, [session.day])


def _session(athlete: User, session_id: UUID) -> LoggedSession:
    session = logged_sessions_of(athlete).filter(pk=session_id).first()
    if session is None:
        raise NotFound
    return session


def _question_load(session: LoggedSession, stored: LoggedSet | None, facts: dict[str, Any]) -> None:
    """One that stands in the log already was meant."""
    kg, movement = facts["load_kg"], facts["movement"]
    if not kg or (stored is not None and stored.load_kg == kg):
        return
    others = session.sets.filter(movement=movement)
    if stored is not None:
        others = others.exclude(pk=stored.pk)
    question(
        Attempt(
            athlete=session.athlete,
            day=session.day,
            movement=movement,
            kg=kg,
            unit=facts["load_unit"],
            beside=others.values_list("load_kg", flat=True),
        )
    )


def _facts(
    athlete: User,
    *,
    movement: int,
    done_at: datetime,
    prescription: UUID | None = None,
    load: Decimal | None = None,
    unit: str = Unit.KG,
    **as_typed: Any,
) -> dict[str, Any]:
    """What to store; no ``load`` is a lift without one."""
    lifted = movements_visible_to(athlete).filter(pk=movement).first()
    if lifted is None:
        raise Invalid("That movement is not one of yours. Pick another one.")
    lines = prescriptions_of(athlete)
    return {
        **as_typed,
        "movement": lifted,
        # A line that was taken away meanwhile must not cost what was lifted.
        "prescription": lines.filter(pk=prescription).first() if prescription else None,
        "load_kg": load_in_kg(load, unit),
        "load_unit": unit,
        "done_at": not_ahead(done_at),
    }
