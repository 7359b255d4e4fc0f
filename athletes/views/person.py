"""One person, as the desk sees them."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from athletes.forms import RoleForm
from athletes.models import User
from athletes.permissions import (
    athletes_without_coach,
    owner_required,
    pain_reports_visible_to,
    people_manageable_by,
    people_visible_to,
    signed_in,
)
from athletes.services import membership
from coachdesk.common.errors import Conflict


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def person(request: HttpRequest, pk: int) -> HttpResponse:
    """A coach reads; an owner changes role and main coach; an athlete has their own page."""
    user = signed_in(request)
    shown = get_object_or_404(people_visible_to(user).select_related("main_coach", "club"), pk=pk)
    if not user.is_coach:
        return redirect("profile")
    manageable = people_manageable_by(user).filter(pk=pk).exists()
    form = RoleForm(request.POST or None, person=shown) if manageable else None
    if request.method == "POST":
        if form is None:
            raise PermissionDenied
        left = list(shown.athletes.filter(is_active=True))
        if _changed(user, shown, form):
            messages.success(request, f"Saved. {shown.name} sees it on their next page.")
            _name_left_alone(request, left)
            return redirect("person", pk=pk)
    page = {
        "person": shown,
        "form": form,
        "pain": pain_reports_visible_to(user).filter(athlete=shown).select_related("closed_by")[:5],
        "looks_after": shown.athletes.filter(is_active=True) if shown.is_coach else None,
    }
    status = 422 if form is not None and form.errors else 200
    return render(request, "athletes/person.html", page, status=status)


def _changed(user: User, shown: User, form: RoleForm) -> bool:
    if not form.is_valid():
        return False
    try:
        membership.assign_role(by=user, person=shown, **form.cleaned_data)
    except Conflict as refused:
        form.add_error("role", str(refused))
        return False
    return True


@owner_required
@require_POST
def deactivate(request: HttpRequest, pk: int) -> HttpResponse:
    user = signed_in(request)
    shown = get_object_or_404(people_manageable_by(user), pk=pk)
    try:
        left = list(shown.athletes.filter(is_active=True))
        membership.deactivate(by=user, person=shown)
        messages.success(request, f"{shown.name} is signed out everywhere and cannot sign in.")
        _name_left_alone(request, left)
    except Conflict as refused:
        messages.error(request, str(refused))
    return redirect("person", pk=pk)


def _name_left_alone(request: HttpRequest, athletes: list[User]) -> None:
    """Tell the owner who of these has no main coach any more."""
    alone = athletes_without_coach(signed_in(request).club).filter(pk__in=[a.pk for a in athletes])
    names = [person.name for person in alone]
    if names:
        who = ", ".join(names)
        messages.warning(
            request,
            f"Without a main coach now: {who}. Their questions wait on the desk for every coach. "
            "Give each of them a main coach on their page.",
        )


@owner_required
@require_POST
def reactivate(request: HttpRequest, pk: int) -> HttpResponse:
    user = signed_in(request)
    shown = get_object_or_404(people_manageable_by(user), pk=pk)
    membership.reactivate(by=user, person=shown)
    messages.success(request, f"{shown.name} can sign in again.")
    return redirect("person", pk=pk)
