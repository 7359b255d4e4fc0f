"""Applying what a preview showed: whole or not at all."""

from datetime import date
from uuid import uuid5

from django.db import transaction
from django.db.models import F

from athletes.models import User
from athletes.webhooks.models import Event
from athletes.webhooks.services import emit
from coachdesk.common.errors import Invalid
from programming.corrections.preview import Line, Preview, preview
from programming.corrections.requests import Wish
from programming.corrections.snapshots import restore
from programming.movements.families import Family
from programming.movements.models import Movement
from programming.movements.services import rebuild_movement, save_movement
from programming.plans.models import Prescription, Programme
from programming.plans.models.correction import Change, Correction, Kind


@transaction.atomic
def apply(
    *,
    coach: User,
    athlete: User,
    wish: Wish,
    today: date,
    seal: str,
    check_back_on: date | None = None,
    leave_clashes: bool = False,
) -> Correction:
    """One transaction. ``seal`` is that of the preview the coach looked at.

    Raises Invalid where the programme has changed since, where another correction holds one of
    the prescriptions and ``leave_clashes`` was not said, or where nothing would change.
    """
    programmes = Programme.objects.filter(athlete=athlete).order_by("pk").select_for_update()
    list(programmes)  # one correction at a time: the preview below then stays true
    shown = preview(athlete, wish, today=today)
    _refuse(shown, seal=seal, leave_clashes=leave_clashes)
    if check_back_on is not None and check_back_on < today:
        raise Invalid("A check-back lies ahead: choose today or a later day.")
    correction = Correction.objects.create(
        athlete=athlete,
        kind=wish.kind,
        wish=wish.to_json(),
        said=wish.said,
        made_by=coach,
        check_back_on=check_back_on,
    )
    new = _new_movement(shown.wish, athlete, coach)
    if new is not None:
        correction.new_movement = new
        correction.save(update_fields=["new_movement"])
    for line in shown.happening:
        _change(correction, line, new)
    touched = {line.session.programme_id for line in shown.happening}
    Programme.objects.filter(pk__in=touched).update(revision=F("revision") + 1)
    emit(
        club_id=athlete.club_id,
        event=Event.CORRECTION_APPLIED,
        correction=str(correction.pk),
        athlete=athlete.pk,
    )
    return correction


def _refuse(shown: Preview, *, seal: str, leave_clashes: bool) -> None:
    if shown.seal != seal:
        raise Invalid("The programme has changed since you looked. Look again, then apply.")
    if shown.clashing and not leave_clashes:
        others = {clash.said for line in shown.clashing for clash in line.clashes}
        held = "; ".join(sorted(others))
        raise Invalid(f"Held by another correction: {held}. Take it back, or leave those be.")
    if not shown.happening:
        raise Invalid(f"No session to come would change: {wish_place(shown)}.")


def wish_place(shown: Preview) -> str:
    """Why nothing changes, to be shown before anybody presses a button."""
    if not shown.sessions:
        return "no session is planned in that time"
    if not shown.lines:
        return f"none of the sessions to come holds the {shown.wish.movement}"
    return "they are that way already"


def _new_movement(wish: Wish, athlete: User, coach: User) -> Movement | None:
    """The variant or drill that did not exist before; it starts without a max."""
    if wish.kind == Kind.REBUILD:
        return rebuild_movement(
            athlete=athlete, parent=wish.movement, name=wish.name, tempo=wish.tempo
        )
    if wish.kind == Kind.ADD_DRILL and wish.drill is None:
        return save_movement(movement=Movement(name=wish.drill_name, family=Family.OTHER), by=coach)
    return None


def _change(correction: Correction, line: Line, new: Movement | None) -> None:
    after = dict(line.after)
    if new is not None:
        after["movement_id"] = new.pk
    prescription = line.prescription
    if prescription is None:
        later = line.session.prescriptions.filter(position__gte=line.position)
        later.update(position=F("position") + 1)
        # The same line of the grid in every week of this session.
        place = f"{line.session.programme_id} {line.session.position}"
        prescription = Prescription(
            session=line.session, row=uuid5(correction.pk, place), position=line.position
        )
    restore(prescription, after)
    prescription.save()
    Change.objects.create(
        correction=correction, prescription=prescription, before=line.before, after=after
    )
