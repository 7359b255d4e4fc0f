"""The private calendar: its page, and the feed itself."""

from urllib.parse import urlsplit

from django.conf import settings as site
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_http_methods

from athletes.permissions import signed_in
from programming.permissions import may_log
from programming.plans.feeding import address_of, athlete_behind, calendar_of, close_feed, open_feed
from programming.plans.models import CalendarFeed


@login_required
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def settings(request: HttpRequest) -> HttpResponse:
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
