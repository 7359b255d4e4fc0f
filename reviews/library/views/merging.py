"""Merging an entry into another: choose, see what happens, do it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from athletes.permissions import coach_required, signed_in
from coachdesk.common.errors import Invalid
from programming.movements.families import Family
from reviews.library import merging_hung
from reviews.library.merging import Hung, merge, partners_of, preview
from reviews.library.models import Fault
from reviews.library.views.hanging import entry_of
from reviews.permissions import library_of


@dataclass(frozen=True)
class Choice:
    """The entry chosen, why it could not be done, whether it was."""

    into: Any
    error: str = ""
    done: bool = False


def _choice(
    request: HttpRequest, partners: Sequence[Any], nothing: str, do: Callable[[Any], Any]
) -> Choice:
    """``?into=12`` only chooses; a POST of ``into`` does it. ``nothing``: said where no partner
    was chosen."""
    posted = request.method == "POST"
    word = (request.POST if posted else request.GET).get("into", "")
    into = next((one for one in partners if str(one.pk) == word), None)
    if not posted:
        return Choice(into)
    if into is None:
        return Choice(None, nothing)
    try:
        do(into)
    except Invalid as refused:
        return Choice(into, str(refused))
    return Choice(into, done=True)


@coach_required
@require_http_methods(["GET", "POST"])
def merge_fault(request: HttpRequest, pk: int) -> HttpResponse:
    """Of one lift; 422 when it cannot be done."""
    coach = signed_in(request)
    fault = get_object_or_404(library_of(coach).select_related("merged_into"), pk=pk)
    partners = partners_of(fault)
    choice = _choice(
        request,
        partners,
        "Choose a fault of this lift that is still offered.",
        lambda into: merge(fault=fault, into=into, by=coach),
    )
    if choice.done:
        messages.success(request, f"“{fault}” is now part of “{choice.into}”.")
        return redirect("library-fault", choice.into.pk)
    found = preview(fault=fault, into=choice.into) if choice.into else None
    facts = {"fault": fault, "partners": partners, "found": found}
    return _page(request, "reviews/library/merge.html", choice, facts)


@coach_required
@require_http_methods(["GET", "POST"])
def merge_hung(request: HttpRequest, pk: int, kind: str, entry: int) -> HttpResponse:
    """A cue or a drill, of any lift; 422 when it cannot be done."""
    coach = signed_in(request)
    fault = get_object_or_404(library_of(coach), pk=pk)
    row = entry_of(fault, kind, entry)
    partners = merging_hung.partners_of(row)
    one = row._meta.verbose_name
    choice = _choice(
        request,
        partners,
        f"Choose a {one} that is still offered.",
        lambda into: merging_hung.merge(entry=row, into=into, by=coach),
    )
    if choice.done:
        messages.success(request, f"“{row}” is now part of “{choice.into}”.")
        return redirect("library-fault", fault.pk)
    facts = {
        "fault": fault,
        "kind": kind,
        "one": one,
        "entry": row,
        "groups": _by_place(partners, fault),
        "found": merging_hung.preview(entry=row, into=choice.into) if choice.into else None,
    }
    return _page(request, "reviews/library/merge_hung.html", choice, facts)


def _by_place(partners: list[Hung], fault: Fault) -> list[tuple[str, list[Hung]]]:
    """Those of this fault, then those of its lift, then the other lifts; each once."""
    lifts = sorted(Family.choices, key=lambda choice: choice[0] != fault.family)
    places: dict[str, list[Hung]] = {"here": [], **{value: [] for value, _ in lifts}}
    for one in partners:
        faults = list(one.faults.all())
        families = [value for value, _ in lifts if value in {each.family for each in faults}]
        place = "here" if fault in faults else next(iter(families), Family.OTHER)
        places[place].append(one)
    labels = [("here", f"Under “{fault}”"), *((value, str(label)) for value, label in lifts)]
    return [(label, places[value]) for value, label in labels if places[value]]


def _page(
    request: HttpRequest, template: str, choice: Choice, facts: dict[str, Any]
) -> HttpResponse:
    facts |= {"into": choice.into, "error": choice.error}
    return render(request, template, facts, status=422 if choice.error else 200)
