"""What a review changed in the programme, as it stands now: the one source of what the reply, its
mail and the notices say about it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Prefetch, QuerySet

from athletes.local_time import today_of
from athletes.models import User
from programming.corrections.snapshots import Snapshot, snapshot
from programming.corrections.summaries import PrescriptionSummary, summarize
from programming.models import Movement
from programming.plans.models.correction import Change, Correction
from programming.plans.selectors.loads import loads_of
from reviews.intake.models import Submission
from reviews.replies.models import CorrectionReason, Outcome


@dataclass(frozen=True)
class ChangedSession:
    """``after`` is what the programme asks now; ``before`` is None where a line was added."""

    day: date
    before: PrescriptionSummary | None
    after: PrescriptionSummary

    @property
    def is_unchanged(self) -> bool:
        """As with a cap that the load is under already: it holds when the max moves."""
        return self.before is not None and self.after.asks_the_same(self.before)


@dataclass(frozen=True)
class ProgrammeChange:
    reason: CorrectionReason
    sessions: list[ChangedSession]

    @property
    def correction(self) -> Correction:
        return self.reason.correction


def programme_changes(
    reasons: QuerySet[CorrectionReason], *, athlete: User, unit: str
) -> list[ProgrammeChange]:
    """Corrections of one athlete, each with the sessions it changed; a bounded number of
    statements. A session whose line was taken out since is left away."""
    lines = Change.objects.select_related("prescription__session").order_by(
        "prescription__session__day", "pk"
    )
    rows = list(reasons.prefetch_related(Prefetch("correction__changes", lines)))
    changes = [change for row in rows for change in row.correction.changes.all()]
    names = _names(changes)
    loads = loads_of(athlete)
    today = today_of(athlete)

    def summary(values: Snapshot, day: date) -> PrescriptionSummary:
        name = names.get(values["movement_id"], "A movement")
        # As in the programme: what is past by the max of its day, what comes by today's.
        return summarize(values, movement=name, loads=loads, day=min(day, today), unit=unit)

    def session(change: Change) -> ChangedSession | None:
        line = change.prescription
        if line is None or line.session.day is None:
            return None
        day = line.session.day
        before = summary(change.before, day) if change.before else None
        return ChangedSession(day, before, summary(snapshot(line), day))

    return [
        ProgrammeChange(row, [one for one in map(session, row.correction.changes.all()) if one])
        for row in rows
    ]


def _names(changes: Iterable[Change]) -> dict[int, str]:
    ids = {change.before["movement_id"] for change in changes if change.before}
    ids |= {change.prescription.movement_id for change in changes if change.prescription}
    return dict(Movement.objects.filter(pk__in=ids).values_list("pk", "name"))


def standing_reasons(submission: Submission) -> QuerySet[CorrectionReason]:
    """Why each correction of a review that still stands was made, in that order: one statement."""
    standing = Correction.objects.standing()
    made = CorrectionReason.objects.filter(submission=submission, correction__in=standing)
    return made.select_related("correction").order_by("correction__made_at")


def standing_changes(submission: Submission) -> list[ProgrammeChange]:
    """Those of a review that still stand, in the athlete's unit."""
    athlete = submission.athlete
    return programme_changes(standing_reasons(submission), athlete=athlete, unit=athlete.unit)


def newest_outcome(reason: CorrectionReason | None) -> Outcome | None:
    """What a coach last said, after a check-back, became of the note behind a correction."""
    if reason is None or reason.note_id is None:
        return None
    newest = Outcome.objects.newest().filter(
        note=reason.note_id, check_back__check_back_of=reason.submission_id
    )
    return newest.last()  # of several check-backs
