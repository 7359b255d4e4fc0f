"""What a review changed in the programme, as the athlete reads it."""

from decimal import Decimal
from typing import Any

from django.db.models import Prefetch

from programming.corrections.models import Change, Correction
from programming.corrections.snapshots import Snapshot
from programming.models import Movement, Prescription
from programming.plans.today_lines import target_words
from reviews.intake.models import Submission
from reviews.replies.correcting import standing_reasons


def changes_of(submission: Submission) -> list[dict[str, Any]]:
    """The corrections that stand, each with the sessions it changed; three statements.

    Shape: [{"correction": id, "note": id or null, "fault", "said", "check_back_on": ISO date or
    null, "sessions": [{"day": ISO date, "before": words or null, "after": words}]}]. A session
    whose line was taken out since is left away.
    """
    lines = Change.objects.select_related("prescription__session").order_by(
        "prescription__session__day", "pk"
    )
    reasons = list(
        standing_reasons(submission).prefetch_related(Prefetch("correction__changes", lines))
    )
    names = _names([reason.correction for reason in reasons])
    unit = submission.athlete.unit
    return [
        {
            "correction": str(one.pk),
            "note": str(reason.note_id) if reason.note_id else None,
            "fault": reason.seen["fault"],
            "said": one.said,
            "check_back_on": one.check_back_on.isoformat() if one.check_back_on else None,
            "sessions": [
                {
                    "day": change.prescription.session.day.isoformat(),
                    "before": _words(change.before, names, unit) if change.before else None,
                    "after": _words(change.after, names, unit) if change.after else "",
                }
                for change in one.changes.all()
                if change.prescription and change.prescription.session.day
            ],
        }
        for reason in reasons
        for one in [reason.correction]
    ]


def _names(made: list[Correction]) -> dict[int, str]:
    changes = [change for one in made for change in one.changes.all()]
    sides = [side for change in changes for side in (change.before, change.after) if side]
    ids = {side["movement_id"] for side in sides}
    return dict(Movement.objects.filter(pk__in=ids).values_list("pk", "name"))


def _words(values: Snapshot, names: dict[int, str], unit: str) -> str:
    """ "Low-bar squat 3 \u00d7 3, 150 kg, not above 90% of the technical max"."""
    number = Decimal(values["target"]) if values["target"] else None
    lift = names.get(values["movement_id"], "A movement")
    said = [
        f"{lift} {values['sets']} \u00d7 {values['reps']}",
        "left out"
        if values["held"]
        else target_words(Prescription(target_kind=values["target_kind"], target=number), unit),
    ]
    if values["cap_percent"]:
        said.append(f"not above {values['cap_percent']}% of the technical max")
    return ", ".join(said)
