"""One's own page: name, unit, time zone, and the ways to sign in."""

from allauth.mfa.models import Authenticator
from allauth.usersessions.models import UserSession
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from athletes.forms import ProfileForm
from athletes.permissions import has_coach, signed_in


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def profile(request: HttpRequest) -> HttpResponse:
    user = signed_in(request)
    form = ProfileForm(request.POST or None, person=user)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, "Saved.")
        return redirect("profile")
    kinds = list(Authenticator.objects.filter(user=user).values_list("type", flat=True))
    page = {
        "form": form,
        "has_coach": has_coach(user),
        "passkeys": kinds.count(Authenticator.Type.WEBAUTHN),
        "codes": Authenticator.Type.TOTP in kinds,
        "sessions": UserSession.objects.filter(user=user).count(),
    }
    return render(request, "athletes/profile.html", page, status=422 if form.errors else 200)
