"""The programme as its athlete reads it, and the sheet to print."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET

from athletes.permissions import signed_in
from programming.permissions import may_log, programmes_visible_to
from programming.plans.grid import unit_for
from programming.plans.pages.grid import running_programme
from programming.plans.reading import weeks_of


@login_required
@require_GET
def my_programme(request: HttpRequest) -> HttpResponse:
    """The weeks of the athlete's own programme, this week open."""
    user = signed_in(request)
    if not may_log(user):
        return redirect("desk")
    programme = running_programme(user)
    weeks = weeks_of(programme, unit=user.unit) if programme else []
    page = {"programme": programme, "weeks": weeks}
    return render(request, "programming/plans/mine.html", page)


@login_required
@require_GET
def sheet(request: HttpRequest, pk: UUID) -> HttpResponse:
    """One page a week from this one on, with room to write what was done; ``?all``: every week."""
    user = signed_in(request)
    programme = get_object_or_404(programmes_visible_to(user).select_related("athlete"), pk=pk)
    unit = unit_for(programme, user)
    every = weeks_of(programme, unit=unit)
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
