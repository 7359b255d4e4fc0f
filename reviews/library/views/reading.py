"""Finding and reading entries."""

from dataclasses import dataclass

from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.cache import patch_vary_headers
from django.views.decorators.http import require_GET

from athletes.permissions import coach_required, signed_in
from programming.movements.families import Family
from reviews.intake.models import View
from reviews.library.forms import CueForm, DrillForm
from reviews.library.models import Cue, Drill, Fault
from reviews.library.queries import by_phase, search
from reviews.permissions import library_of


@dataclass(frozen=True)
class Hanging:
    """The one cue or drill whose form is open on a fault's page."""

    kind: str  # "cues" or "drills"
    pk: int | None  # None: a new one
    form: forms.ModelForm


def _index(request: HttpRequest, family: str, letters: str) -> dict[str, object]:
    """What the index at the left or on the whole page shows. Two or three statements."""
    library = library_of(signed_in(request))
    if letters:
        found = list(search(library, letters).prefetch_related("cues"))
        chosen_first = sorted(Family.choices, key=lambda choice: choice[0] != family)
        groups = [
            (str(label), part)
            for value, label in chosen_first
            if (part := [f for f in found if f.family == value and f.retired_at is None])
        ]
    else:
        found = list(library.filter(family=family).prefetch_related("cues"))
        groups = by_phase(found, family)
    return {
        "families": Family.choices,
        "family": family,
        "letters": letters,
        "groups": groups,
        "retired": [fault for fault in found if fault.retired_at],
    }


def _family(request: HttpRequest, usual: str = Family.SQUAT) -> str:
    asked = request.GET.get("family", "")
    return asked if asked in Family.values else usual


def _letters(request: HttpRequest) -> str:
    return " ".join(request.GET.get("q", "").replace("\0", "").split())[:80]


@coach_required
@require_GET
def library(request: HttpRequest) -> HttpResponse:
    """The faults of one lift by phase, or whatever holds the letters typed."""
    facts = _index(request, _family(request), _letters(request))
    swap = "HX-Request" in request.headers and "HX-History-Restore-Request" not in request.headers
    page = "parts/found.html" if swap else "library.html"
    response = render(request, f"reviews/library/{page}", facts)
    # One address, two bodies: without this the browser's Back may show the bare part.
    patch_vary_headers(response, ["HX-Request"])
    return response


def _opened(request: HttpRequest, fault: Fault) -> Hanging | None:
    """The form that the address asks for: ``?cues=new`` or ``?drills=12``."""
    for kind, form in (("cues", CueForm), ("drills", DrillForm)):
        asked = request.GET.get(kind, "")
        if asked == "new":
            return Hanging(kind, None, form())
        if asked.isascii() and asked.isdigit():
            entry: Cue | Drill = get_object_or_404(getattr(fault, kind), pk=int(asked))
            return Hanging(kind, entry.pk, form(instance=entry))
    return None


def show_fault(
    request: HttpRequest, fault: Fault, hanging: Hanging | None, status: int = 200
) -> HttpResponse:
    """A fault's page, with the form of one cue or drill open or none."""
    cues, drills = (list(hung.select_related("merged_into")) for hung in (fault.cues, fault.drills))
    facts = _index(request, fault.family, "") | {
        "fault": fault,
        "sight": [(view.label, fault.sight.get(view.value, "no")) for view in View],
        "cues": [cue for cue in cues if cue.retired_at is None],
        "drills": [drill for drill in drills if drill.retired_at is None],
        "old_cues": [cue for cue in cues if cue.retired_at],
        "old_drills": [drill for drill in drills if drill.retired_at],
        "hanging": hanging,
    }
    return render(request, "reviews/library/fault.html", facts, status=status)


@coach_required
@require_GET
def fault(request: HttpRequest, pk: int) -> HttpResponse:
    """One entry: how to see it, does it matter, what to say, what to do."""
    entry = get_object_or_404(library_of(signed_in(request)), pk=pk)
    return show_fault(request, entry, _opened(request, entry))
