"""The training log as a page: the athlete's own, and the same for the coaches of the club."""

from datetime import date, timedelta

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET

from athletes.local_time import today_of
from athletes.models import Role, User
from athletes.permissions import coach_required, people_visible_to, signed_in
from programming.permissions import body_weights_visible_to, may_log
from programming.plans.logbook import WEEKS_A_PAGE, ends_of, weeks_of


@login_required
@require_GET
def training_log(request: HttpRequest) -> HttpResponse:
    """An athlete's own log; whoever coaches has none."""
    reader = signed_in(request)
    if not may_log(reader):
        return redirect("home")
    return _page(request, reader)


@coach_required
@require_GET
def athlete_log(request: HttpRequest, pk: int) -> HttpResponse:
    people = people_visible_to(signed_in(request)).filter(role=Role.ATHLETE)
    return _page(request, get_object_or_404(people, pk=pk))


def _page(request: HttpRequest, athlete: User) -> HttpResponse:
    reader, today = signed_in(request), today_of(athlete)
    until = min(_day(request.GET.get("until")) or today, today)
    ends = ends_of(reader=reader, athlete=athlete)
    weeks = weeks_of(reader=reader, athlete=athlete, until=until)
    span = timedelta(weeks=WEEKS_A_PAGE)
    facts = {
        "athlete": athlete,
        "is_own": reader == athlete,
        "weeks": weeks,
        "weights": body_weights_visible_to(reader)
        .filter(athlete=athlete, day__range=(weeks[-1].monday, weeks[0].sunday))
        .order_by("-day"),
        "earlier": until - span if ends and ends[0] < weeks[-1].monday else None,
        "later": min(until + span, today) if until < today else None,
        "is_empty": ends is None and not any(week.entries for week in weeks),
    }
    return render(request, "programming/logs/log.html", facts)


def _day(text: str | None) -> date | None:
    """A day out of an address; 404 for what is none."""
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError as wrong:
        raise Http404 from wrong
