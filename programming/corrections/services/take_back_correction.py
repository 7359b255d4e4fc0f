"""Undoing a correction: whole while nothing of it was trained, from a day on afterwards."""

from datetime import date

from django.db import transaction
from django.db.models import Exists, F, OuterRef, QuerySet, RestrictedError
from django.utils import timezone

from athletes.models import User
from coachdesk.common.errors import Invalid
from programming.corrections.snapshots import changed, restore, snapshot
from programming.logs.models import LoggedSet
from programming.movements.models import Movement
from programming.plans.models import Programme
from programming.plans.models.correction import Change, Correction


@transaction.atomic
def take_back(*, correction: Correction, by: User, today: date) -> None:
    """One transaction: the coming sessions read as before it.

    Raises Invalid where a set of it was logged, or where somebody changed the same thing since.
    """
    correction = _locked(correction)
    if trained := trained_on(correction):
        raise Invalid(
            f"A set of it was logged on {trained:%-d %B}, so it cannot be taken back. "
            "End it from a day instead."
        )
    _put_back(correction, _open(correction, today))
    correction.taken_back_at = timezone.now()
    correction.taken_back_by = by
    correction.save()
    _drop_unused_movement(correction)


@transaction.atomic
def end(*, correction: Correction, by: User, today: date, from_day: date) -> None:
    """One transaction: from ``from_day`` on the sessions read as before it; what lies before
    stays. Raises Invalid for a day that is past, or where the same thing was changed since."""
    correction = _locked(correction)
    if from_day < today:
        raise Invalid("What is past stays as it was: choose today or a later day.")
    _put_back(correction, _open(correction, from_day))
    correction.ended_on = from_day
    correction.taken_back_by = by
    correction.save()


def trained_on(correction: Correction) -> date | None:
    """The last day on which a set of it was logged."""
    sets = LoggedSet.objects.filter(prescription__changes__correction=correction)
    return sets.order_by("-session__day").values_list("session__day", flat=True).first()


def _locked(correction: Correction) -> Correction:
    list(Programme.objects.filter(athlete_id=correction.athlete_id).select_for_update())
    correction = Correction.objects.select_for_update().get(pk=correction.pk)
    if correction.taken_back_at or correction.ended_on:
        raise Invalid("This correction holds nothing any more.")
    return correction


def _open(correction: Correction, from_day: date) -> QuerySet[Change]:
    """Its changes in sessions that are still to come and untouched by training."""
    trained = LoggedSet.objects.filter(session__planned=OuterRef("prescription__session"))
    return (
        correction.changes.filter(prescription__session__day__gte=from_day)
        .exclude(Exists(trained))
        .select_related("prescription__movement", "prescription__session")
    )


def _put_back(correction: Correction, changes: QuerySet[Change]) -> None:
    programmes = set()
    for change in changes:
        prescription = change.prescription
        if prescription is None or change.after is None:
            continue
        ours = changed(change.before, change.after) if change.before else set(change.after)
        now = snapshot(prescription)
        if any(now[name] != change.after[name] for name in ours):
            day = prescription.session.day
            raise Invalid(
                f"{prescription.movement} on {day:%a %-d %B} was changed after this correction. "
                "Take that change back first."
            )
        programmes.add(prescription.session.programme_id)
        if change.before is None:
            prescription.delete()
        else:
            restore(prescription, {name: change.before[name] for name in ours})
            prescription.save()
    Programme.objects.filter(pk__in=programmes).update(revision=F("revision") + 1)


def _drop_unused_movement(correction: Correction) -> None:
    """A variant or drill that corrections made goes with the last of them, unless something else
    names it."""
    ids = {change.after["movement_id"] for change in correction.changes.all() if change.after}
    made = Movement.objects.filter(pk__in=ids, made_by_corrections__isnull=False)
    for movement in made.distinct():
        try:
            with transaction.atomic():
                movement.delete()
        except RestrictedError:
            continue  # lifted or planned elsewhere: it stays, with its history
