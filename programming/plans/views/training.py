"""What an athlete reads and trains from: the programme, the day's session, the log. The log is
open to the coaches of the club too."""

from datetime import date, timedelta
from pathlib import Path
from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.contrib.staticfiles import finders
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET

from athletes.local_time import today_of
from athletes.models import Role, User
from athletes.permissions import coach_required, people_visible_to, signed_in
from programming.permissions import body_weights_visible_to, may_log, programmes_visible_to
from programming.plans.schemas import training_day_data
from programming.plans.selectors.logbook import WEEKS_A_PAGE, ends_of, logged_weeks
from programming.plans.selectors.programme_grid import unit_for
from programming.plans.selectors.programme_weeks import programme_weeks
from programming.plans.views.programmes import running_programme


@login_required
@require_GET
def my_programme(request: HttpRequest) -> HttpResponse:
    """The weeks of the athlete's own programme, this week open."""
    user = signed_in(request)
    if not may_log(user):
        return redirect("desk")
    programme = running_programme(user)
    weeks = programme_weeks(programme, unit=user.unit) if programme else []
    page = {"programme": programme, "weeks": weeks}
    return render(request, "programming/plans/mine.html", page)


@login_required
@require_GET
def sheet(request: HttpRequest, pk: UUID) -> HttpResponse:
    """One page a week from this one on, with room to write what was done; ``?all``: every week."""
    user = signed_in(request)
    programme = get_object_or_404(programmes_visible_to(user).select_related("athlete"), pk=pk)
    unit = unit_for(programme, user)
    every = programme_weeks(programme, unit=unit)
    coming = [read for read in every if read.week.state != "done"]
    weeks = every if "all" in request.GET or not coming else coming
    page = {
        "programme": programme,
        "athlete": programme.athlete,
        "weeks": weeks,
        "unit": unit,
        "hidden": len(every) - len(weeks),
    }
    return render(request, "programming/plans/sheet.html", page)


WORKER = "js/session/service-worker.js"


@login_required
@require_GET
@never_cache
def training(request: HttpRequest) -> HttpResponse:
    """The day's session on a phone; whoever coaches trains nobody's."""
    athlete = signed_in(request)
    if not may_log(athlete):
        return redirect("home")
    return render(request, "programming/session/page.html", {"data": training_day_data(athlete)})


@require_GET
def worker(request: HttpRequest) -> HttpResponse:
    """The service worker. It lies beside the page it may answer for: its folder is its reach.

    It holds nobody's data, so anybody may read it; the browser asks for it without a page.
    """
    path = finders.find(WORKER)
    assert isinstance(path, str)  # it ships with the site
    response = HttpResponse(Path(path).read_bytes(), content_type="text/javascript")
    response["Cache-Control"] = "no-cache"
    return response


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
    weeks = logged_weeks(reader=reader, athlete=athlete, until=until)
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
