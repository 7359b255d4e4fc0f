"""Adding, editing, retiring and bringing back a fault."""

from django.contrib import messages
from django.db import IntegrityError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from athletes.permissions import coach_required, signed_in
from programming.movements.families import Family
from reviews.library.forms import FaultForm
from reviews.library.keeping import bring_back, keep, retire
from reviews.library.models import Fault
from reviews.permissions import library_of


def _form_page(request: HttpRequest, entry: Fault) -> HttpResponse:
    """The form; once it is right, the entry's page."""
    form = FaultForm(request.POST or None, instance=entry)
    if request.method == "POST" and form.is_valid():
        try:
            keep(entry=form.save(commit=False), by=signed_in(request))
        except IntegrityError:  # two coaches add the same name at once
            form.add_error("name", "Somebody has just added this name. Open that entry instead.")
        else:
            messages.success(request, "Saved. Notes already sent keep the words they had.")
            return redirect("library-fault", entry.pk)
    status = 422 if form.is_bound else 200
    return render(request, "reviews/library/form.html", {"form": form}, status=status)


@coach_required
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest) -> HttpResponse:
    family = request.GET.get("family", "")
    club = signed_in(request).club
    entry = Fault(club=club, family=family if family in Family.values else Family.SQUAT)
    return _form_page(request, entry)


@coach_required
@require_http_methods(["GET", "POST"])
def edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _form_page(request, get_object_or_404(library_of(signed_in(request)), pk=pk))


@coach_required
@require_POST
def retire_fault(request: HttpRequest, pk: int) -> HttpResponse:
    """Offer it no longer."""
    entry = get_object_or_404(library_of(signed_in(request)), pk=pk)
    retire(entry=entry)
    messages.success(request, f"“{entry}” is retired. Notes that name it keep it.")
    return redirect("library-fault", entry.pk)


@coach_required
@require_POST
def bring_back_fault(request: HttpRequest, pk: int) -> HttpResponse:
    """Offer it again."""
    entry = get_object_or_404(library_of(signed_in(request)), pk=pk)
    bring_back(entry=entry)
    messages.success(request, f"“{entry}” is back.")
    return redirect("library-fault", entry.pk)
