"""Saying what became of a focus point of an earlier reply."""

from uuid import UUID

from django.db import transaction

from athletes.models import User
from coachdesk.common.errors import Invalid, NotFound
from reviews.replies.models import Outcome, Result
from reviews.replies.permissions import submission_for_work
from reviews.replies.selectors.follow_up import earlier_version, points_to_judge

NO_CHECK_BACK = "This is no check-back of an answered question, so there is no point to judge."


@transaction.atomic
def record_outcome(*, coach: User, check_back_id: UUID, note: UUID, result: Result) -> Outcome:
    """Record what became of one focus point. One transaction. Saying the same again adds nothing.

    Raises:
        NotFound: the check-back is not this coach's to answer, or the earlier reply has no such
            point.
        Invalid: it follows no answered question.
        ClaimedByOther, NotClaimed: see `reviews.desk.claiming.extend`.
    """
    check_back = submission_for_work(coach=coach, submission_id=check_back_id)
    version = earlier_version(check_back)
    if version is None:
        raise Invalid(NO_CHECK_BACK)
    sent = next((point for point in points_to_judge(version) if point["note"] == str(note)), None)
    if sent is None:
        raise NotFound("The earlier reply has no such point any more. Load the page again.")
    last = Outcome.objects.newest().filter(check_back=check_back, note=note).first()
    if last is not None and last.result == result and last.version_id == version.pk:
        return last
    return Outcome.objects.create(
        check_back=check_back,
        version=version,
        note=note,
        number=sent["number"],
        fault_id=sent["fault_id"],
        cue_id=sent["cue_id"],
        drill_id=sent["drill_id"],
        fault_name=sent["fault"],
        cue_text=sent["cue"],
        drill_text=sent["drill"],
        result=result,
        confirmed_by=coach,
    )
