"""What an athlete brings along: the plates at hand, and a calendar that reads the sessions."""

from urllib.parse import urlsplit

from django.conf import settings as site
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_http_methods

from athletes.models import Role
from athletes.permissions import people_visible_to, signed_in
from programming.permissions import may_log
from programming.plans.forms import PlatesForm
from programming.plans.models import CalendarFeed
from programming.plans.plates import Plates, loadable, written_pairs
from programming.plans.selectors.loads import plates_of
from programming.plans.services.set_plates import set_plates
from programming.plans.services.share_calendar import (
    address_of,
    athlete_behind,
    calendar_of,
    close_feed,
    open_feed,
)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def plates(request: HttpRequest, pk: int) -> HttpResponse:
    """Bar and pairs; below, what they load to."""
    athlete = get_object_or_404(people_visible_to(signed_in(request)), pk=pk, role=Role.ATHLETE)
    now = plates_of(athlete)
    initial = {
        "unit": now.unit,
        "bar": f"{now.bar.normalize():f}",
        "pairs": written_pairs(now.pairs),
    }
    form = PlatesForm(request.POST or None, initial=initial)
    if request.method == "POST" and form.is_valid():
        set_plates(athlete=athlete, **form.cleaned_data)
        messages.success(request, "Saved. Loads are rounded to these from now on.")
        return redirect("plates", pk=pk)
    totals = [one.total for one in loadable(now)]
    page = {
        "athlete": athlete,
        "form": form,
        "plates": now,
        "usual": {unit: written_pairs(Plates.usual(unit).pairs) for unit in ("kg", "lb")},
        "lightest": totals[0],
        "heaviest": totals[-1],
        "number": len(totals),
    }
    status = 422 if form.errors else 200
    return render(request, "programming/plans/plates.html", page, status=status)


@login_required
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def calendar_settings(request: HttpRequest) -> HttpResponse:
    """Open the address (it is shown this once), or close it."""
    user = signed_in(request)
    if not may_log(user):
        return redirect("desk")
    link = ""
    if request.method == "POST" and request.POST.get("do") == "close":
        close_feed(athlete=user)
        messages.success(request, "The address is closed. Calendars that used it get nothing more.")
        return redirect("calendar-settings")
    if request.method == "POST":
        link = address_of(open_feed(athlete=user))
    feed = CalendarFeed.objects.filter(athlete=user).first()
    return render(request, "programming/plans/calendar.html", {"feed": feed, "link": link})


@require_GET
@never_cache
def feed(request: HttpRequest, token: str) -> HttpResponse:
    """Whoever has the address may read: a calendar program cannot sign in."""
    athlete = athlete_behind(token)
    if athlete is None:
        raise Http404
    host = urlsplit(site.PUBLIC_URL).hostname or "coachdesk"
    answer = HttpResponse(calendar_of(athlete, host), content_type="text/calendar; charset=utf-8")
    answer["Content-Disposition"] = 'inline; filename="training.ics"'
    answer["Referrer-Policy"] = "no-referrer"
    return answer
