"""The athlete file, one movement's maxes with their history, and the athlete's own page of them."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from athletes.local_time import today_of
from athletes.models import User
from athletes.permissions import coach_required, signed_in
from coachdesk.common.errors import Invalid
from programming.logs.forms import SetMaxForm
from programming.logs.models import MaxKind
from programming.logs.scatter import heavy_only, scatter_of
from programming.logs.selectors.current_maxes import current_max
from programming.logs.selectors.max_table import filmed_of, history_of, lines_of
from programming.logs.services.set_max import set_max
from programming.logs.unusual_load import UnusualLoad
from programming.models import Movement
from programming.permissions import athletes_coached_by, movements_of

ABOUT = {
    MaxKind.TECHNICAL: "Only sets in which every reviewed rep was to standard.",
    MaxKind.BEST: "Every set, however it looked.",
}


@coach_required
@require_GET
def athlete_file(request: HttpRequest, pk: int) -> HttpResponse:
    athlete = get_object_or_404(
        athletes_coached_by(signed_in(request)).select_related("main_coach"), pk=pk
    )
    page = {"athlete": athlete, "lines": lines_of(athlete, today_of(athlete))}
    return render(request, "programming/maxes/file.html", page)


@coach_required
@require_http_methods(["GET", "POST"])
def max_history(request: HttpRequest, pk: int, movement_id: int) -> HttpResponse:
    """Both maxes of one movement: how found, what they were before, and setting one by hand."""
    user = signed_in(request)
    athlete = get_object_or_404(athletes_coached_by(user), pk=pk)
    movement = get_object_or_404(movements_of(athlete), pk=movement_id)
    form = SetMaxForm(request.POST or None, by=user, athlete=athlete)
    if request.method == "POST" and form.is_valid():
        try:
            set_max(by=user, athlete=athlete, movement=movement, **form.max_data)
        except UnusualLoad as unusual:
            form.ask(str(unusual))
        except Invalid as why:
            form.add_error(None, str(why))
        else:
            messages.success(request, "Set. Percentages of it follow from that day on.")
            return redirect("max-history", pk=pk, movement_id=movement_id)
    sets = filmed_of(athlete, movement)
    page = {
        "athlete": athlete,
        "movement": movement,
        "form": form,
        "kinds": _kinds(athlete, movement),
        "sets": sets,
        "scatter": scatter_of(sets, user.unit),
        "only_heavy": heavy_only((one.load_kg, not one.clean) for one in sets) is not None,
    }
    status = 422 if form.is_bound else 200
    return render(request, "programming/maxes/history.html", page, status=status)


def _kinds(athlete: User, movement: Movement) -> list[dict[str, object]]:
    today = today_of(athlete)
    return [
        {
            "kind": kind,
            "label": MaxKind(kind).label,
            "about": about,
            "now": current_max(athlete=athlete, movement=movement, kind=kind, day=today),
            "history": history_of(athlete, movement, kind),
        }
        for kind, about in ABOUT.items()
    ]


@login_required
@require_GET
def my_maxes(request: HttpRequest) -> HttpResponse:
    """An athlete's own maxes; a coach opens an athlete's file instead."""
    user = signed_in(request)
    if not user.is_athlete:
        raise PermissionDenied
    page = {"athlete": user, "lines": lines_of(user, today_of(user))}
    return render(request, "programming/maxes/mine.html", page)
