"""How often a fault was gone at the check-back: a part of the library's page of that fault."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from athletes.permissions import coach_required, signed_in
from reviews.permissions import library_of
from reviews.replies.selectors.what_works import FEWEST, what_works


@coach_required
@require_GET
def works(request: HttpRequest, pk: int) -> HttpResponse:
    """The library loads it: this wing stands behind the library's."""
    fault = get_object_or_404(library_of(signed_in(request)), pk=pk)
    facts = {"works": what_works(fault), "fewest": FEWEST}
    return render(request, "reviews/replies/parts/what_works.html", facts)
