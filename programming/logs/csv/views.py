"""An old log in, the log out: send a file, look at what would come, bring it in or leave it."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.http import HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from athletes.models import Role, User
from athletes.permissions import coach_required, people_visible_to, signed_in
from coachdesk.common.errors import Invalid
from programming.logs.csv.columns import DATE_ORDERS, FIELDS, NEEDED
from programming.logs.csv.export import file_of
from programming.logs.csv.selectors import preview_of
from programming.logs.csv.services import import_sessions
from programming.logs.csv.table import MOST_BYTES, TOO_LARGE, decoded, read
from programming.logs.models import ImportDraft
from programming.permissions import may_log


def _athlete(request: HttpRequest) -> User:
    athlete = signed_in(request)
    if not may_log(athlete):
        raise PermissionDenied
    return athlete


@login_required
@require_http_methods(["GET", "POST"])
def import_log(request: HttpRequest) -> HttpResponse:
    """Send a file. It is only looked at: nothing of it is in the log yet."""
    athlete, error = _athlete(request), ""
    if request.method == "POST":
        try:
            _keep(athlete, request)
            return redirect("log-import-check")
        except Invalid as wrong:
            error = str(wrong)
    optional = [label for name, label in FIELDS.items() if name not in NEEDED]
    facts = {"error": error, "fields": optional}
    return render(request, "programming/logs/import.html", facts, status=422 if error else 200)


def _keep(athlete: User, request: HttpRequest) -> None:
    sent = request.FILES.get("file")
    if sent is None:
        raise Invalid("Choose a file first.")
    if (sent.size or 0) > MOST_BYTES:  # before a byte of it is read
        raise Invalid(TOO_LARGE)
    text = decoded(sent.read())
    read(text)
    facts = {"name": (sent.name or "log.csv")[:200], "text": text}
    ImportDraft.objects.update_or_create(athlete=athlete, defaults=facts)


@login_required
@require_http_methods(["GET", "POST"])
def check(request: HttpRequest) -> HttpResponse:
    """What the file says, with the columns and movements as chosen so far."""
    athlete = _athlete(request)
    draft = ImportDraft.objects.filter(athlete=athlete).first()
    if draft is None:
        return redirect("log-import")
    data = {key: str(value) for key, value in request.POST.items()}
    if data.get("deed") == "leave":
        draft.delete()
        return redirect("log-import")
    preview, error = preview_of(athlete, draft.text, data), ""
    if data.get("deed") == "bring":
        try:
            with transaction.atomic():
                result = import_sessions(
                    athlete=athlete,
                    parsed=preview.parsed,
                    chosen=preview.chosen,
                    load_confirmed="load_confirmed" in data,
                )
                draft.delete()
            messages.success(request, f"{result.sets} sets of {result.sessions} sessions are in.")
            return redirect("training-log")
        except Invalid as wrong:
            error = str(wrong)
    facts = {
        "draft": draft,
        "preview": preview,
        "error": error,
        "fields": FIELDS,
        "orders": DATE_ORDERS,
    }
    page = "programming/logs/import_check.html"
    return render(request, page, facts, status=422 if error else 200)


@login_required
@require_GET
def export_log(request: HttpRequest) -> StreamingHttpResponse:
    athlete = _athlete(request)
    return file_of(reader=athlete, athlete=athlete)


@coach_required
@require_GET
def export_athlete_log(request: HttpRequest, pk: int) -> StreamingHttpResponse:
    reader = signed_in(request)
    people = people_visible_to(reader).filter(role=Role.ATHLETE)
    return file_of(reader=reader, athlete=get_object_or_404(people, pk=pk))
