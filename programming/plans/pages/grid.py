"""The coach's grid of one programme."""

from decimal import Decimal
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET

from athletes.models import Role, User
from athletes.permissions import coach_required, people_visible_to, signed_in
from coachdesk.common.errors import DomainError
from programming.permissions import movements_visible_to, programmes_editable_by
from programming.plans.copying import Copied, copied_week
from programming.plans.forms import WEEKDAYS, CopyForm, StartForm
from programming.plans.grid import grid_of, unit_for
from programming.plans.models import Programme
from programming.plans.undo import last_change


@login_required
@require_GET
def programme(request: HttpRequest, pk: int) -> HttpResponse:
    """An athlete's programme that runs now; where there is none, the form to make one."""
    user = signed_in(request)
    athlete = get_object_or_404(people_visible_to(user), pk=pk, role=Role.ATHLETE)
    if not user.is_coach:
        return redirect("my-programme")
    running = running_programme(athlete)
    if running is None or "new" in request.GET:
        return start_page(request, athlete, StartForm(by=user, athlete=athlete))
    return _grid_page(request, running)


def running_programme(athlete: User) -> Programme | None:
    """The one begun last of those that have not ended."""
    return Programme.objects.filter(athlete=athlete, ended_at=None).order_by("-starts_on").first()


def start_page(request: HttpRequest, athlete: User, form: StartForm) -> HttpResponse:
    page = {"athlete": athlete, "form": form, "running": running_programme(athlete)}
    status = 422 if form.errors else 200
    return render(request, "programming/plans/start.html", page, status=status)


@coach_required
@require_GET
def programme_grid(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Any programme of the club, an earlier one or a template too."""
    mine = programmes_editable_by(signed_in(request)).select_related("athlete")
    return _grid_page(request, get_object_or_404(mine, pk=pk))


def _grid_page(request: HttpRequest, programme: Programme) -> HttpResponse:
    user = signed_in(request)
    copies, copy_form = _copying(request, programme)
    of = programme.athlete
    others = Programme.objects.filter(athlete=of).exclude(pk=programme.pk) if of else []
    movements = movements_visible_to(user)
    movements = movements.filter(athlete=None) | movements.filter(athlete=of)
    page: dict[str, Any] = {
        "programme": programme,
        "athlete": of,
        "others": others,
        "grid": grid_of(programme, unit=unit_for(programme, user), copies=copies),
        "copy": copy_form,
        "last_change": last_change(programme),
        "movements": movements.distinct(),
        "weekdays": [label for _, label in WEEKDAYS],
    }
    return render(request, "programming/plans/grid.html", page)


def _copying(request: HttpRequest, programme: Programme) -> tuple[list[Copied], CopyForm | None]:
    """The week that is being copied, when the address asks for one."""
    if "week" not in request.GET or "to_week" not in request.GET:
        return [], None
    form = CopyForm(request.GET)
    if not form.is_valid():
        messages.error(request, form.sentence)
        return [], None
    wanted = form.cleaned_data
    try:
        add = wanted["add"] or Decimal(0)
        unit = unit_for(programme, signed_in(request))
        copies = copied_week(programme, wanted["week"], wanted["to_week"], add=add, unit=unit)
    except DomainError as refusal:
        messages.error(request, str(refusal))
        return [], None
    return copies, form
