"""The plates at hand: the athlete's page, and the coach's of each athlete."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from athletes.models import Role
from athletes.permissions import people_visible_to, signed_in
from programming.plans.forms import PlatesForm
from programming.plans.loads import plates_of
from programming.plans.plates import set_plates, written_pairs
from programming.plans.plating import Plates, loadable


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
