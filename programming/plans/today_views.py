"""The page an athlete trains from, its data, and the worker that opens it without a network."""

from pathlib import Path

from django.contrib.auth.decorators import login_required
from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.permissions import signed_in
from programming.permissions import may_log
from programming.plans.today import today_data

WORKER = "js/session/service-worker.js"


@login_required
@require_GET
@never_cache
def training(request: HttpRequest) -> HttpResponse:
    """The day's session on a phone; whoever coaches trains nobody's."""
    athlete = signed_in(request)
    if not may_log(athlete):
        return redirect("home")
    return render(request, "programming/session/page.html", {"data": today_data(athlete)})


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


class TodayView(APIView):
    """What another phone logged meanwhile, and what the coach changed."""

    def get(self, request: Request) -> Response:
        athlete = signed_in(request)
        if not may_log(athlete):
            raise PermissionDenied("A log is its athlete's to write.")
        return Response(today_data(athlete))
