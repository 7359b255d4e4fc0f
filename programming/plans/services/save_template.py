"""Keeping a programme as a template of the club, and making a programme from one."""

from datetime import date

from django.db import transaction

from athletes.models import User
from coachdesk.common.errors import Invalid
from programming.plans.models import PlannedSession, Prescription, Programme, Progression
from programming.plans.services.arrange_sessions import dated
from programming.plans.services.copy_sessions import SAME

RULE = ("row", "from_week", "step", "amount", "unit", "deload_every", "deload_percent")


@transaction.atomic
def save_as_template(*, by: User, programme: Programme, name: str) -> Programme:
    """Weekdays in place of dates; without what corrections put there for this one athlete: no
    caps, nothing held, and the athlete's own movements as the ones they came from. One
    transaction."""
    template = Programme.objects.create(
        club=programme.club, name=name.strip() or programme.name, weeks=programme.weeks, made_by=by
    )
    _copy_all(programme, template)
    return template


@transaction.atomic
def make_from_template(
    *, by: User, template: Programme, athlete: User, starts_on: date, name: str = ""
) -> Programme:
    """The template's weeks from ``starts_on`` on. One transaction. Raises Invalid."""
    if template.athlete_id is not None:
        raise Invalid("That is somebody's programme, not a template.")
    programme = Programme.objects.create(
        club=athlete.club,
        athlete=athlete,
        name=name.strip() or template.name,
        starts_on=starts_on,
        weeks=template.weeks,
        made_by=by,
    )
    _copy_all(template, programme)
    return programme


def _copy_all(source: Programme, target: Programme) -> None:
    """Sessions, lines and rules. Loads in kg stay: a template is where a coach begins."""
    for session in source.sessions.prefetch_related("prescriptions__movement"):
        weekday = session.weekday if session.day is None else session.day.weekday()
        assert weekday is not None  # the database holds one of the two
        new = PlannedSession.objects.create(
            programme=target,
            week=session.week,
            position=session.position,
            name=session.name,
            note=session.note,
            **dated(target, session.week, weekday),
        )
        Prescription.objects.bulk_create(
            _for_anybody(line, new) for line in session.prescriptions.all()
        )
    Progression.objects.bulk_create(
        Progression(programme=target, **{name: getattr(rule, name) for name in RULE})
        for rule in source.progressions.all()
    )


def _for_anybody(line: Prescription, session: PlannedSession) -> Prescription:
    copy = Prescription(session=session, **{name: getattr(line, name) for name in SAME})
    copy.cap_percent, copy.held = None, False
    movement = line.movement
    while movement.athlete_id is not None and movement.parent is not None:
        movement = movement.parent
    copy.movement = movement
    return copy


@transaction.atomic
def delete_template(*, template: Programme) -> None:
    """Programmes made from it stay. One transaction. Raises Invalid for somebody's programme."""
    if template.athlete_id is not None:
        raise Invalid("An athlete's programme is ended, not deleted.")
    template.delete()
