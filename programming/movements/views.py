"""The coach's list of movements, and rebuilding one for an athlete."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from athletes.permissions import coach_required, signed_in
from athletes.selectors import athletes_of
from coachdesk.common.errors import Invalid
from programming.movements import selectors, services
from programming.movements.families import Family
from programming.movements.forms import MovementForm, RebuildForm
from programming.movements.models import Movement
from programming.permissions import athletes_rebuilding, movements_kept_by, movements_visible_to


@coach_required
@require_GET
def movements(request: HttpRequest) -> HttpResponse:
    user = signed_in(request)
    athlete = athletes_of(user).filter(pk=_asked(request)).first()
    page = {
        "athlete": athlete,
        "families": selectors.by_family(user, athlete),
        "retired": selectors.retired(user),
    }
    return render(request, "programming/movements/movements.html", page)


def _asked(request: HttpRequest) -> int:
    """The athlete whose movements are looked at, when one is named; else 0, which is nobody."""
    named = request.GET.get("athlete", "")
    return int(named) if named.isascii() and named.isdigit() and len(named) < 10 else 0


def _form_page(request: HttpRequest, movement: Movement) -> HttpResponse:
    form = MovementForm(request.POST or None, instance=movement)
    if request.method == "POST" and form.is_valid():
        try:
            kept = services.save_movement(movement=form.save(commit=False), by=signed_in(request))
        except Invalid as why:
            form.add_error(None, str(why))
        else:
            messages.success(request, f"{kept.name} is saved.")
            return redirect("movements")
    status = 422 if form.is_bound else 200
    return render(request, "programming/movements/form.html", {"form": form}, status=status)


@coach_required
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest) -> HttpResponse:
    family = request.GET.get("family", "")
    return _form_page(request, Movement(family=family if family in Family.values else "squat"))


@coach_required
@require_http_methods(["GET", "POST"])
def edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _form_page(request, get_object_or_404(movements_kept_by(signed_in(request)), pk=pk))


@coach_required
@require_POST
def retire(request: HttpRequest, pk: int) -> HttpResponse:
    movement = get_object_or_404(movements_kept_by(signed_in(request)), pk=pk)
    services.retire_movement(movement=movement)
    messages.success(request, f"{movement.name} is retired. What was lifted with it is kept.")
    return redirect("movements")


@coach_required
@require_POST
def restore(request: HttpRequest, pk: int) -> HttpResponse:
    movement = get_object_or_404(movements_kept_by(signed_in(request)), pk=pk)
    services.restore_movement(movement=movement)
    messages.success(request, f"{movement.name} is back.")
    return redirect("movements")


@coach_required
@require_http_methods(["GET", "POST"])
def rebuild(request: HttpRequest, pk: int) -> HttpResponse:
    """A new movement of one athlete's own, whose max starts from what is lifted."""
    user = signed_in(request)
    parent = get_object_or_404(movements_visible_to(user).filter(retired_at=None), pk=pk)
    athletes = athletes_rebuilding(user, parent)
    first = {"athlete": _asked(request), "name": f"{parent.name}, rebuilt"}
    form = RebuildForm(request.POST or None, athletes=athletes, initial=first)
    if request.method == "POST" and form.is_valid():
        try:
            made = services.rebuild_movement(parent=parent, **form.cleaned_data)
        except Invalid as why:
            form.add_error("name", str(why))
        else:
            messages.success(
                request, f"{made.name} is ready. It has no max until it is lifted to standard."
            )
            return redirect("athlete-file", pk=form.cleaned_data["athlete"].pk)
    page = {"form": form, "parent": parent}
    status = 422 if form.is_bound else 200
    return render(request, "programming/movements/rebuild.html", page, status=status)
