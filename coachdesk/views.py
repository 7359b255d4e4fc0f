"""The front door."""

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from athletes.permissions import signed_in


@login_required
def home(request: HttpRequest) -> HttpResponse:
    """Send a coach to the desk and an athlete to their own page."""
    if signed_in(request).is_coach:
        return redirect("desk")
    return redirect("athlete-home")
