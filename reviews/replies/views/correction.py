"""From a note to the programme: the page, its preview, applying, taking back, ending."""

from dataclasses import dataclass
from datetime import date, timedelta
from uuid import UUID

from django.contrib import messages
from django.db.models import Q
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from athletes.local_time import today_of
from athletes.models import User
from athletes.permissions import coach_required, signed_in
from coachdesk.common.errors import Invalid
from coachdesk.common.units import shown
from programming.corrections.advice import HEAVY_ONLY, about_goal
from programming.corrections.preview import Preview, coming, preview
from programming.corrections.services.apply_correction import wish_place
from programming.corrections.services.take_back_correction import trained_on
from programming.logs.scatter import heavy_only
from programming.permissions import corrections_changeable_by, movements_visible_to
from programming.plans.models.correction import Correction, Kind
from reviews.permissions import notes_reviewable_by
from reviews.replies.forms import PARTS, Part, Shared, drill_fields
from reviews.replies.models import Note, Outcome, ReplyVersion
from reviews.replies.schemas.note import kept_note
from reviews.replies.selectors.called_sets import called_sets
from reviews.replies.selectors.programme_changes import (
    ProgrammeChange,
    newest_outcome,
    programme_changes,
)
from reviews.replies.services.apply_correction import apply_correction
from reviews.replies.services.withdraw_correction import end_correction, take_correction_back
from reviews.replies.views.correction_preview import Row, rows_of
from reviews.replies.views.stills import still_of

AHEAD = timedelta(weeks=52)  # a programme's longest


@dataclass
class CorrectionPage:
    """What the page works with: the note, the forms as sent, and what they would change."""

    note: Note
    coach: User
    shared: Shared
    parts: list[Part]
    shown: Preview | None = None
    refusal: str = ""

    @property
    def athlete(self) -> User:
        return self.note.clip.submission.athlete

    @property
    def part(self) -> Part:
        kind = self.shared["kind"].value()
        return next((part for part in self.parts if part.kind == kind), self.parts[0])

    @property
    def rows(self) -> list[Row]:
        return rows_of(self.shown, self.athlete, self.coach) if self.shown else []

    @property
    def advice(self) -> list[str]:
        """What the trade says to it, before the kinds."""
        lightest = heavy_only(called_sets(self.note))
        unit = self.coach.unit
        said = HEAVY_ONLY.format(load=f"{shown(lightest, unit)} {unit}") if lightest else ""
        return [line for line in (said, about_goal(self.note.clip.submission.goal)) if line]

    @property
    def nothing(self) -> str:
        """Why the button would do nothing, said before it is pressed."""
        return wish_place(self.shown) if self.shown and not self.shown.happening else ""


@dataclass(frozen=True)
class Held:
    """A running correction: when it was last trained, and what a check-back showed."""

    correction: Correction
    trained: date | None
    outcome: Outcome | None


def _correction_page(coach: User, note: Note, data: QueryDict) -> CorrectionPage:
    athlete = note.clip.submission.athlete
    today = today_of(athlete)
    mine = movements_visible_to(coach).filter(Q(athlete=None) | Q(athlete=athlete))
    planned = coming(athlete, today=today, until=today + AHEAD)
    here = mine.filter(Q(prescriptions__session__in=planned) | Q(pk=note.clip.movement_id))
    query = data if data.get("kind") else None
    drill = drill_fields(note.drill, coach.unit) if note.drill else {}
    shared = Shared(
        query,
        movements=here.distinct().order_by("order", "name"),
        today=today,
        initial={"kind": Kind.CAP, "movement": note.clip.movement_id},
    )
    parts = [
        part(query, movements=mine, initial=drill if part.kind == Kind.ADD_DRILL else None)
        for part in PARTS
    ]
    page = CorrectionPage(note=note, coach=coach, shared=shared, parts=parts)
    if query and shared.is_valid() and page.part.is_valid():
        try:
            wish = page.part.wish(shared, coach.unit)
            page.shown = preview(athlete, wish, today=today)
        except Invalid as refusal:
            page.refusal = str(refusal)
    elif query:
        page.refusal = "Look at what is marked: nothing is changed yet."
    return page


def _note(request: HttpRequest, pk: UUID, note_id: UUID) -> Note:
    notes = notes_reviewable_by(signed_in(request)).select_related(
        "clip__submission__athlete", "clip__movement", "drill"
    )
    return get_object_or_404(notes, pk=note_id, clip__submission=pk)


@coach_required
@require_http_methods(["GET", "POST"])
def change(request: HttpRequest, pk: UUID, note_id: UUID) -> HttpResponse:
    """A GET with a kind shows what it would change; a POST with the preview's seal applies it."""
    note = _note(request, pk, note_id)
    page = _correction_page(signed_in(request), note, request.POST or request.GET)
    if request.method == "POST" and page.shown:
        try:
            made = apply_correction(
                coach=page.coach,
                note=note,
                wish=page.shown.wish,
                seal=request.POST.get("seal", ""),
                check_back_on=page.shared.cleaned_data["check_back_on"],
                leave_clashes=page.shared.cleaned_data["leave_clashes"],
            )
        except Invalid as refusal:
            page.refusal = str(refusal)
        else:
            messages.success(request, f"{made.said}. It is in the programme.")
            return redirect("correction", pk, note_id)
    part = "parts/preview" if request.headers.get("HX-Request") else "page"
    status = 422 if page.refusal and request.method == "POST" else 200
    # Opened without a question, a note that changed the programme shows what it did: a form that
    # offers the same again at once would be pressed twice.
    opened = request.method == "GET" and not {"kind", "another"} & set(request.GET)
    applied = _applied(note, page.coach) if opened else []
    context = {
        "page": page,
        "seen": kept_note(note),
        "still": still_of(note.clip, note.first_frame),
        "applied": applied,
        "is_answered": ReplyVersion.objects.filter(reply__submission=pk).exists(),
        "running": _running(page.athlete, besides=applied),
    }
    return render(request, f"reviews/corrections/{part}.html", context, status=status)


@dataclass(frozen=True)
class Applied:
    """What this note changed and what holds, with the sessions before and after."""

    change: ProgrammeChange
    trained: date | None
    outcome: Outcome | None


def _applied(note: Note, coach: User) -> list[Applied]:
    """The newest first."""
    reasons = note.correction_reasons.filter(correction__in=Correction.objects.running())
    reasons = reasons.select_related("correction").order_by("-correction__made_at")
    athlete = note.clip.submission.athlete
    changes = programme_changes(reasons, athlete=athlete, unit=coach.unit)
    return [
        Applied(change, trained_on(change.correction), newest_outcome(change.reason))
        for change in changes
    ]


def _running(athlete: User, *, besides: list[Applied]) -> list[Held]:
    """What else holds now, the newest first."""
    shown_already = [one.change.correction.pk for one in besides]
    running = Correction.objects.running().filter(athlete=athlete).exclude(pk__in=shown_already)
    return [
        Held(one, trained_on(one), newest_outcome(getattr(one, "reason", None)))
        for one in running.select_related("reason")[:20]
    ]


@coach_required
@require_POST
def back(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Take a correction back, or end it from today where it was trained."""
    coach = signed_in(request)
    correction = get_object_or_404(
        corrections_changeable_by(coach).select_related("athlete", "reason__note"), pk=pk
    )
    today = today_of(correction.athlete)
    try:
        if trained_on(correction):
            end_correction(coach=coach, correction=correction, from_day=today)
            messages.success(request, "Ended from today. What was trained stays as it was.")
        else:
            take_correction_back(coach=coach, correction=correction)
            messages.success(request, "Taken back. The sessions to come read as before.")
    except Invalid as refusal:
        messages.error(request, str(refusal))
    return redirect(_where(correction))


def _where(correction: Correction) -> str:
    reason = getattr(correction, "reason", None)
    if reason and reason.note_id:
        return reverse("correction", args=[reason.submission_id, reason.note_id])
    return reverse("desk")
