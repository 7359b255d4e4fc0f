"""The cues and drills that hang on a fault: added, edited, retired and brought back there."""

from typing import Any

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from athletes.permissions import coach_required, signed_in
from reviews.library.forms import CueForm, DrillForm
from reviews.library.keeping import bring_back, keep_under, retire
from reviews.library.models import Cue, Drill, Fault
from reviews.library.views.reading import Hanging, show_fault
from reviews.permissions import library_of

FORMS: dict[str, type[forms.ModelForm]] = {"cues": CueForm, "drills": DrillForm}


def _fault(request: HttpRequest, pk: int) -> Fault:
    return get_object_or_404(library_of(signed_in(request)), pk=pk)


def entry_of(fault: Fault, kind: str, entry: int) -> Any:
    """The cue or drill that hangs there, else 404."""
    if kind not in FORMS:
        raise Http404
    return get_object_or_404(getattr(fault, kind), pk=entry)


@coach_required
@require_POST
def add(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    fault = _fault(request, pk)
    if kind not in FORMS:
        raise Http404
    return _save(request, fault, kind, None)


@coach_required
@require_POST
def edit(request: HttpRequest, pk: int, kind: str, entry: int) -> HttpResponse:
    fault = _fault(request, pk)
    return _save(request, fault, kind, entry_of(fault, kind, entry))


def _save(request: HttpRequest, fault: Fault, kind: str, entry: Cue | Drill | None) -> HttpResponse:
    form = FORMS[kind](request.POST, instance=entry)
    if not form.is_valid():
        return show_fault(
            request, fault, Hanging(kind, entry.pk if entry else None, form), status=422
        )
    keep_under(entry=form.save(commit=False), fault=fault, by=signed_in(request))
    messages.success(request, f"Saved: {form.instance}")
    return redirect("library-fault", fault.pk)


@coach_required
@require_POST
def retire_one(request: HttpRequest, pk: int, kind: str, entry: int) -> HttpResponse:
    fault = _fault(request, pk)
    row = entry_of(fault, kind, entry)
    retire(entry=row)
    messages.success(request, f"“{row}” is retired. It can be brought back below.")
    return redirect("library-fault", fault.pk)


@coach_required
@require_POST
def bring_back_one(request: HttpRequest, pk: int, kind: str, entry: int) -> HttpResponse:
    fault = _fault(request, pk)
    row = entry_of(fault, kind, entry)
    bring_back(entry=row)
    messages.success(request, f"“{row}” is back.")
    return redirect("library-fault", fault.pk)
