"""What a review changed in the programme, as it stands now: the one source of what the reply, its
mail and the notices say about it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Prefetch, QuerySet

from athletes.local_time import today_of
from athletes.models import User
from programming.corrections.models import Change, Correction
from programming.corrections.snapshots import Snapshot, snapshot
from programming.corrections.summaries import PrescriptionSummary, summarize
from programming.models import Movement
from programming.plans.loads import loads_of
from reviews.intake.models import Submission
from reviews.replies.models import CorrectionReason
from reviews.replies.services.apply_correction import standing_reasons


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


def changes_of(submission: Submission) -> list[dict[str, Any]]:
    """Those that stand, to be frozen with the reply.

    Shape: [{"correction": id, "note": id or null, "fault", "said", "check_back_on": ISO date or
    null, "sessions": [{"day": ISO date, "before": words or null, "after": words}]}].
    """
    athlete = submission.athlete
    changes = programme_changes(standing_reasons(submission), athlete=athlete, unit=athlete.unit)
    return [_to_json(change) for change in changes]


def _to_json(change: ProgrammeChange) -> dict[str, Any]:
    reason, correction = change.reason, change.correction
    day = correction.check_back_on
    return {
        "correction": str(correction.pk),
        "note": str(reason.note_id) if reason.note_id else None,
        "fault": reason.seen["fault"],
        "said": correction.said,
        "check_back_on": day.isoformat() if day else None,
        "sessions": [
            {
                "day": session.day.isoformat(),
                "before": str(session.before) if session.before else None,
                "after": str(session.after),
            }
            for session in change.sessions
        ],
    }


def sent_changes(content: dict[str, Any]) -> list[dict[str, Any]]:
    """The changes that a version holds, with their days as dates."""
    return [
        {
            **change,
            "check_back_on": _day(change["check_back_on"]),
            "sessions": [{**one, "day": _day(one["day"])} for one in change["sessions"]],
        }
        for change in content["changes"]
    ]


def _day(iso: str | None) -> date | None:
    return date.fromisoformat(iso) if iso else None
