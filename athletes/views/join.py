"""The page behind the link of an invitation."""

from django.contrib import messages
from django.contrib.auth import login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from athletes.forms import JoinForm
from athletes.known_device import remember_device
from athletes.models import Invitation
from athletes.services import invitations

BACKEND = "allauth.account.auth_backends.AuthenticationBackend"


@sensitive_post_parameters("password")
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def join(request: HttpRequest, token: str) -> HttpResponse:
    invitation = invitations.invitation_behind(token)
    if invitation is None or invitation.state != "open":
        return _closed(request, invitation)
    if request.user.is_authenticated:
        return render(request, "athletes/join_signed_in.html", {"invitation": invitation})
    form = JoinForm(request.POST or None, invitation=invitation)
    if request.method == "POST" and form.is_valid():
        try:
            person = invitations.accept(token=token, **form.cleaned_data)
        except invitations.InvitationClosed:
            return _closed(request, invitations.invitation_behind(token))
        except invitations.AddressTaken:
            return _closed(request, invitation, "taken")
        login(request, person, backend=BACKEND)
        messages.success(request, f"Welcome, {person.first_name}. You are signed in.")
        response = redirect("home")
        remember_device(request, response, person)
        return response
    page = {"form": form, "invitation": invitation}
    return render(request, "athletes/join.html", page, status=422 if form.errors else 200)


def _closed(request: HttpRequest, invitation: Invitation | None, why: str = "") -> HttpResponse:
    """Say plainly why the link does not work, and what to do. 410: it will not work again."""
    why = why or (invitation.state if invitation else "unknown")
    page = {"invitation": invitation, "why": why}
    return render(request, "athletes/join_closed.html", page, status=410 if invitation else 404)
