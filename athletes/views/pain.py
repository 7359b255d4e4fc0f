"""Closing a pain report, and opening it again, from whatever page shows it."""

from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from athletes.models import PainReport
from athletes.permissions import pain_reports_visible_to, signed_in
from athletes.services.pain_reports import close_pain_report, reopen_pain_report


@login_required
@require_POST
def close(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The athlete says that it is over, or a coach has talked to them."""
    user, report = signed_in(request), _report(request, pk)
    close_pain_report(by=user, report=report)
    if report.athlete_id == user.pk:
        again = "If it comes back, tell your coach with a new question."
    else:
        again = f"It can be opened again on {report.athlete.first_name}\u2019s page."
    messages.success(request, f"Closed: {report}. {again}")
    return redirect(_back(request))


@login_required
@require_POST
def reopen(request: HttpRequest, pk: UUID) -> HttpResponse:
    report = _report(request, pk)
    reopen_pain_report(report=report)
    messages.success(request, f"Open again: {report}.")
    return redirect(_back(request))


def _report(request: HttpRequest, pk: UUID) -> PainReport:
    reports = pain_reports_visible_to(signed_in(request)).exclude(reported_at=None)
    return get_object_or_404(reports.select_related("athlete"), pk=pk)


def _back(request: HttpRequest) -> str:
    """The page that showed the button, if it is one of ours."""
    page = request.POST.get("next", "")
    ours = url_has_allowed_host_and_scheme(page, {request.get_host()}, request.is_secure())
    return page if ours else "home"
