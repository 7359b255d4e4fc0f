"""The programme's pages, in the states a person meets. They run on today's real date."""

from datetime import timedelta
from decimal import Decimal

from django.urls import reverse

from athletes.local_time import today_of
from athletes.models import PainReport
from programming.logs.models import MaxKind, MaxRecord, MaxSource
from programming.plans.actions import arrange
from programming.plans.models import Programme
from programming.plans.models.correction import Change, Correction, Kind
from programming.plans.services.arrange_sessions import make_programme
from programming.plans.services.set_progression import Wanted, set_rule
from programming.plans.services.share_calendar import open_feed
from tests.browser.pages import Look
from tests.conftest import Cast
from tests.programming.plans.build import (
    a_programme,
    a_row,
    at,
    bench,
    line,
    revision,
    squat,
    train,
)


def running(cast: Cast) -> Programme:
    """The second week of four, with what was done, a rule, a cap from a correction, a max."""
    today = today_of(cast.athlete)
    MaxRecord.objects.create(
        athlete=cast.athlete, movement=squat(), kind=MaxKind.TECHNICAL, source=MaxSource.HAND,
        day=today - timedelta(days=30), kg=155, low_kg=155, high_kg=155, reason="Tested",
    )  # fmt: skip
    days = [today.weekday(), (today.weekday() + 3) % 7]
    made = a_programme(
        cast.coach, cast.athlete, weekdays=days, starts_on=today - timedelta(weeks=1)
    )
    now = at(made, 2).pk
    a_row(made, "3x5 @ 80% tempo 3-1-0", session=now)
    row = a_row(made, "4x4 87.5kg rest 2:30", session=now, movement=bench())
    a_row(made, "3x10 @8", session=now, movement=bench())
    rule = Wanted(2, "amount", Decimal("2.5"), deload_every=4)
    set_rule(programme=made, seen=revision(made), row=row, wanted=rule)
    train(line(made, row, 2))
    capped = line(made, row, 3)
    capped.cap_percent, capped.note = Decimal(90), "Elbows under the bar, and slower than last week"
    capped.save()
    said = "Paused bench press not above 90% of the technical max"
    correction = Correction.objects.create(
        athlete=cast.athlete, kind=Kind.CAP, said=said, made_by=cast.coach
    )
    Change.objects.create(correction=correction, prescription=capped, before={}, after={})
    return made


def grid(cast: Cast) -> str:
    running(cast)
    return reverse("programme", args=[cast.athlete.pk])


def undoable(cast: Cast) -> str:
    """A week was deleted, and pain is reported."""
    made = running(cast)
    PainReport.objects.create(
        athlete=cast.athlete, where="Left knee, inner side", score=4, since="Monday"
    )
    arrange(cast.coach, made, "delete-week", {"seen": revision(made), "week": 4})
    return reverse("programme-grid", args=[made.pk])


def copying(cast: Cast) -> str:
    made = running(cast)
    return f"{reverse('programme-grid', args=[made.pk])}?week=3&to_week=5&add=2.5"


def template(cast: Cast) -> str:
    made = make_programme(
        by=cast.coach, athlete=None, club=cast.coach.club, name="Base", weeks=4, weekdays=[0, 3]
    )
    return reverse("programme-grid", args=[made.pk])


def templates(cast: Cast) -> str:
    template(cast)
    return reverse("programmes")


def sheet(cast: Cast) -> str:
    return reverse("programme-sheet", args=[running(cast).pk])


def mine(cast: Cast) -> str:
    running(cast)
    return reverse("my-programme")


def with_a_feed(cast: Cast) -> str:
    open_feed(athlete=cast.athlete)
    return reverse("calendar-settings")


PAGES = [
    Look("programme", "coach", grid),
    Look("programme", "coach", lambda c: reverse("programme", args=[c.athlete.pk]), "none"),
    Look("programme-grid", "coach", undoable, "undo"),
    Look("programme-grid", "coach", copying, "copying"),
    Look("programme-grid", "coach", template, "template"),
    Look("programmes", "coach", templates),
    Look("programme-sheet", "athlete", sheet),
    Look("my-programme", "athlete", mine),
    Look("my-programme", "athlete", lambda cast: reverse("my-programme"), "none"),
    Look("calendar-settings", "athlete", with_a_feed),
    Look("plates", "athlete", lambda cast: reverse("plates", args=[cast.athlete.pk])),
]
