"""The club's people, and who is on the way in."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_POST

from athletes import selectors
from athletes.forms import InviteForm
from athletes.permissions import (
    coach_required,
    has_coach,
    invitations_visible_to,
    signed_in,
)
from athletes.services import invitations
from athletes.services.invitations import join_link, send_invitation
from coachdesk.common.errors import Conflict


def _page(request: HttpRequest, form: InviteForm, **more: Any) -> dict[str, Any]:
    user = signed_in(request)
    search = request.GET.get("q", "").strip()[:120]
    athletes = list(selectors.athletes_of(user, search))
    return {
        "form": form,
        "search": search,
        "athletes": athletes,
        "desk": selectors.desk_of(user, search),
        "gone": selectors.gone_from(user, search),
        "without_coach": [one for one in athletes if user.is_owner and not has_coach(one)],
        "invitations": selectors.pending_invitations(user),
        **more,
    }


@coach_required
@require_GET
def people(request: HttpRequest) -> HttpResponse:
    form = InviteForm(by=signed_in(request))
    return render(request, "athletes/people.html", _page(request, form))


@coach_required
@require_POST
def invite(request: HttpRequest) -> HttpResponse:
    user = signed_in(request)
    form = InviteForm(request.POST, by=user)
    if form.is_valid():
        try:
            invitation, token = invitations.invite(by=user, **form.cleaned_data)
        except Conflict as error:
            form.add_error("email", str(error))
        else:
            link = join_link(token)
            if send_invitation(invitation, link):
                messages.success(request, f"The invitation is on its way to {invitation.email}.")
                return redirect("people")
            # The token is not kept, so this page is the only place that can show the link.
            fresh = InviteForm(by=user)
            shown = _page(request, fresh, undelivered=invitation, link=link)
            return render(request, "athletes/people.html", shown)
    return render(request, "athletes/people.html", _page(request, form), status=422)


@coach_required
@require_POST
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    user = signed_in(request)
    invitation = get_object_or_404(invitations_visible_to(user), pk=pk)
    if invitations.withdraw(by=user, invitation=invitation.pk):
        messages.success(request, f"The invitation to {invitation.email} is withdrawn.")
    else:
        messages.warning(request, f"The invitation to {invitation.email} was no longer open.")
    return redirect("people")
