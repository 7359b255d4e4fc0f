"""Merging a fault into another: choose, see what happens, do it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from athletes.permissions import coach_required, signed_in
from reviews.library.merging import CannotMerge, merge, partners_of, preview
from reviews.library.models import Fault
from reviews.permissions import library_of


def _chosen(partners: list[Fault], word: str) -> Fault | None:
    return next((fault for fault in partners if str(fault.pk) == word), None)


@coach_required
@require_http_methods(["GET", "POST"])
def merge_fault(request: HttpRequest, pk: int) -> HttpResponse:
    """``?into=12`` shows what would happen; a POST of ``into`` does it, 422 when it cannot."""
    coach = signed_in(request)
    fault = get_object_or_404(library_of(coach).select_related("merged_into"), pk=pk)
    partners = partners_of(fault)
    posted = request.method == "POST"
    into = _chosen(partners, (request.POST if posted else request.GET).get("into", ""))
    error = ""
    if posted and into is None:
        error = "Choose a fault of this lift that is still offered."
    elif posted and into:
        try:
            merge(fault=fault, into=into, by=coach)
        except CannotMerge as refused:
            error = str(refused)
        else:
            messages.success(request, f"“{fault}” is now part of “{into}”.")
            return redirect("library-fault", into.pk)
    facts = {
        "fault": fault,
        "partners": partners,
        "into": into,
        "found": preview(fault=fault, into=into) if into else None,
        "error": error,
    }
    status = 422 if error else 200
    return render(request, "reviews/library/merge.html", facts, status=status)
