"""One set of a session: logged, changed, taken out. Each public function is one transaction."""

from typing import Any
from uuid import UUID

from django.db import transaction

from athletes.models import User
from coachdesk.common.errors import Invalid, NotFound
from programming.logs.models import LoggedSession, LoggedSet
from programming.logs.told import ToldSet, load_in_kg
from programming.logs.touched import day_touched
from programming.logs.training import not_ahead, refuse_late, remember_removed
from programming.logs.unusual_load import Attempt, question
from programming.permissions import logged_sessions_of, movements_visible_to, prescriptions_of

MOST_SETS = 200  # of one session: beyond it something is sending by itself


@transaction.atomic
def put_set(*, athlete: User, session_id: UUID, set_id: UUID, told: ToldSet) -> LoggedSet:
    """The set as it is stored now: by this change, or by a newer one that came before it.

    Raises Gone (training.py), NotFound (not this athlete's session or set) or Invalid, also with
    the question about a load that is far above what is known and not confirmed.
    """
    session = _session(athlete, session_id)
    refuse_late(set_id, told.revision)
    stored = session.sets.filter(pk=set_id).first()
    if stored is None and session.sets.count() >= MOST_SETS:
        raise Invalid(f"A session holds {MOST_SETS} sets at most.")
    facts = {**_facts(athlete, told), "revision": told.revision}
    if not told.load_confirmed and (stored is None or stored.revision < told.revision):
        _question_load(session, stored, facts)
    row, new = LoggedSet.objects.select_for_update().get_or_create(
        pk=set_id, defaults={**facts, "session": session}
    )
    if row.session_id != session.pk:
        raise NotFound
    if not new:
        if row.revision >= told.revision:
            return row
        for name, value in facts.items():
            setattr(row, name, value)
        row.save()
    day_touched(athlete, session.day)
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
        day_touched(athlete, session.day)


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


def _facts(athlete: User, told: ToldSet) -> dict[str, Any]:
    movement = movements_visible_to(athlete).filter(pk=told.movement).first()
    if movement is None:
        raise Invalid("That movement is not one of yours. Pick another one.")
    lines = prescriptions_of(athlete)
    return {
        "movement": movement,
        # A line that was taken away meanwhile must not cost what was lifted.
        "prescription": lines.filter(pk=told.prescription).first() if told.prescription else None,
        "position": told.position,
        "load_kg": load_in_kg(told.load, told.unit),
        "load_unit": told.unit,
        "reps": told.reps,
        "missed_reps": told.missed_reps,
        "rpe": told.rpe,
        "note": told.note,
        "done_at": not_ahead(told.done_at),
    }
