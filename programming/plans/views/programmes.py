"""A coach's programmes: the grid of one, making one, changing it, and the club's templates."""

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from athletes.models import Role, User
from athletes.permissions import coach_required, people_visible_to, signed_in
from coachdesk.common.errors import DomainError, Invalid
from programming.permissions import (
    movements_visible_to,
    programmes_editable_by,
    programmes_visible_to,
)
from programming.plans.actions import ACTIONS, CopyWeekIn, arrange
from programming.plans.forms import WEEKDAYS, StartForm
from programming.plans.models import Programme
from programming.plans.selectors.programme_grid import grid_of, unit_for
from programming.plans.services.arrange_sessions import make_programme
from programming.plans.services.copy_sessions import Copied, copied_week
from programming.plans.services.save_template import make_from_template
from programming.plans.services.undo_change import last_change


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
    copies, copy = _copying(request, programme)
    of = programme.athlete
    others = Programme.objects.filter(athlete=of).exclude(pk=programme.pk) if of else []
    movements = movements_visible_to(user)
    movements = movements.filter(athlete=None) | movements.filter(athlete=of)
    page: dict[str, Any] = {
        "programme": programme,
        "athlete": of,
        "others": others,
        "grid": grid_of(programme, unit=unit_for(programme, user), copies=copies),
        "copy": copy,
        "last_change": last_change(programme),
        "movements": movements.distinct(),
        "weekdays": [label for _, label in WEEKDAYS],
    }
    return render(request, "programming/plans/grid.html", page)


def _copying(
    request: HttpRequest, programme: Programme
) -> tuple[list[Copied], dict[str, Any] | None]:
    """The week that is being copied, when the address asks for one."""
    if "week" not in request.GET or "to_week" not in request.GET:
        return [], None
    schema = CopyWeekIn(data=request.GET)
    try:
        if not schema.is_valid():
            raise Invalid(schema.sentence)
        unit = unit_for(programme, signed_in(request))
        copies = copied_week(programme, **schema.validated_data, unit=unit)
    except DomainError as refusal:
        messages.error(request, str(refusal))
        return [], None
    return copies, schema.validated_data


@coach_required
@require_POST
def change(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Do what the button says and come back to the grid, with a sentence either way."""
    user = signed_in(request)
    programme = get_object_or_404(programmes_editable_by(user), pk=pk)
    action = request.POST.get("do", "")
    if action not in ACTIONS:
        raise Http404
    schema = ACTIONS[action][0](data=request.POST)
    try:
        if not schema.is_valid():
            raise Invalid(schema.sentence)
        messages.success(request, arrange(user, programme, action, schema.validated_data))
    except DomainError as refusal:
        messages.error(request, str(refusal))
    if not Programme.objects.filter(pk=pk).exists():
        return redirect("programmes")
    picked = urlencode({"pick": request.POST.get("pick", "")[:80]})
    return redirect(f"{reverse('programme-grid', args=[pk])}?{picked}")


@coach_required
@require_POST
def start(request: HttpRequest, pk: int) -> HttpResponse:
    """A programme for an athlete, from nothing or from a template."""
    user = signed_in(request)
    athlete = get_object_or_404(people_visible_to(user), pk=pk, role=Role.ATHLETE)
    form = StartForm(request.POST, by=user, athlete=athlete)
    if not form.is_valid():
        return start_page(request, athlete, form)
    made = _made(user, athlete, form)
    messages.success(request, f"{made} begins. {athlete.first_name} sees it at once.")
    return redirect("programme-grid", pk=made.pk)


def _made(user: User, athlete: User, form: StartForm) -> Programme:
    wanted = form.cleaned_data
    if template := wanted["template"]:
        return make_from_template(
            by=user,
            template=template,
            athlete=athlete,
            starts_on=wanted["starts_on"],
            name=wanted["name"],
        )
    return make_programme(
        by=user,
        athlete=athlete,
        club=athlete.club,
        name=wanted["name"],
        weeks=wanted["weeks"],
        weekdays=wanted["weekdays"],
        starts_on=wanted["starts_on"],
    )


@coach_required
@require_http_methods(["GET", "HEAD", "POST"])
def programmes(request: HttpRequest) -> HttpResponse:
    """The club's templates; POST makes an empty one."""
    user = signed_in(request)
    form = StartForm(request.POST or None, by=user, athlete=None)
    if request.method == "POST" and form.is_valid():
        wanted = form.cleaned_data
        made = make_programme(
            by=user,
            athlete=None,
            club=user.club,
            name=wanted["name"],
            weeks=wanted["weeks"],
            weekdays=wanted["weekdays"],
        )
        return redirect("programme-grid", pk=made.pk)
    templates = programmes_visible_to(user).filter(athlete=None).order_by("name")
    page = {"templates": templates.prefetch_related("sessions"), "form": form}
    status = 422 if form.errors else 200
    return render(request, "programming/plans/templates.html", page, status=status)
