"""From a note to a change of the athlete's coming sessions, in one transaction."""

from datetime import date

from django.db import transaction

from athletes.local_time import today_of
from athletes.models import User
from programming.corrections.requests import Wish
from programming.corrections.services.apply_correction import apply
from programming.plans.models.correction import Correction
from reviews.intake.models import Submission
from reviews.replies.models import CorrectionReason, Note
from reviews.replies.schemas.note import kept_note
from reviews.replies.services.programme_notices import notify_applied


@transaction.atomic
def apply_correction(
    *,
    coach: User,
    note: Note,
    wish: Wish,
    seal: str,
    check_back_on: date | None = None,
    leave_clashes: bool = False,
) -> Correction:
    """The correction and its reason, both or neither. ``seal`` is that of the preview the coach
    looked at. One transaction.

    Raises Invalid, see `programming.corrections.services.apply_correction.apply`.
    """
    # Locked: a reply that goes out at this moment either holds the correction or is before it.
    locked = Submission.objects.select_for_update(of=("self",)).select_related("athlete")
    submission = locked.get(pk=note.clip.submission_id)
    correction = apply(
        coach=coach,
        athlete=submission.athlete,
        wish=wish,
        today=today_of(submission.athlete),
        seal=seal,
        check_back_on=check_back_on,
        leave_clashes=leave_clashes,
    )
    reason = CorrectionReason.objects.create(
        correction=correction, submission=submission, note=note, seen=kept_note(note)
    )
    notify_applied(reason)
    return correction
