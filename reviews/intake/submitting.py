"""From a draft to a question in the coach's queue. Each public function is one transaction."""

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils.timezone import now

from athletes.models import PainReport, User
from athletes.webhooks.models import Event
from athletes.webhooks.services import emit
from coachdesk.common.errors import Invalid
from reviews.intake.models import ClipState, RoundUpConsent, State, Submission, Urgency
from reviews.permissions import drafts_of, submissions_visible_to

ASK = "Write your question: what do you want to know?"
ADD_A_CLIP = "Add at least one clip. Your coach answers what the clip shows."
ONLY_FAILED = "None of the clips will play. Send one of them again, or add another."


class NotReady(Invalid):
    """Why a draft cannot be sent: a sentence for each field."""

    status = 400

    def __init__(self, errors: dict[str, list[str]]) -> None:
        super().__init__(next(iter(errors.values()))[0], errors=errors)


@transaction.atomic
def open_draft(*, athlete: User, check_back_of: UUID | None = None) -> Submission:
    """The newest draft, or a new one. A check-back gets a draft of its own."""
    User.objects.select_for_update().get(pk=athlete.pk)  # two taps make one draft
    earlier = None
    if check_back_of:
        earlier = submissions_visible_to(athlete).exclude(state=State.DRAFT).get(pk=check_back_of)
    draft = drafts_of(athlete).filter(check_back_of=earlier).first()
    if draft is None and earlier is None:
        draft = drafts_of(athlete).first()
    return draft or Submission.objects.create(
        club_id=athlete.club_id, athlete=athlete, check_back_of=earlier
    )


@transaction.atomic
def save_draft(*, draft: Submission, changes: Mapping[str, Any]) -> Submission:
    """Store validated changes; "pain" is a dict, or None for none. Raises DoesNotExist if sent."""
    draft = Submission.objects.select_for_update().get(pk=draft.pk, state=State.DRAFT)
    fields = [name for name in ("question", "tried", "goal", "equipment") if name in changes]
    for name in fields:
        setattr(draft, name, changes[name])
    if "pain" in changes:
        _save_pain(draft, changes["pain"])
    if "round_up" in changes:
        _say(draft, given=changes["round_up"], by=draft.athlete)
    draft.save(update_fields=[*fields, "pain", "urgency", "saved_at"])
    return draft


def _save_pain(draft: Submission, told: Mapping[str, Any] | None) -> None:
    before = draft.pain
    if told is None:
        draft.pain = None
        draft.urgency = Urgency.FORM
        draft.save(update_fields=["pain"])
        if before:
            before.delete()
        return
    pain = before or PainReport(athlete=draft.athlete, reported_at=None)
    for name in ("where", "score", "since", "signs"):
        setattr(pain, name, told[name])
    pain.save()
    draft.pain = pain
    draft.urgency = urgency_of(pain)


def urgency_of(pain: PainReport | None) -> Urgency:
    """How early the queue shows it. A warning sign comes before any other pain."""
    if pain is None:
        return Urgency.FORM
    return Urgency.WARNING_SIGN if pain.signs else Urgency.PAIN


@transaction.atomic
def send(*, draft: Submission) -> Submission:
    """Put the question into the queue, clips still arriving or not. Raises NotReady.

    Sending twice sends once: a thumb that taps again, or a lost answer, changes nothing.
    """
    draft = Submission.objects.select_for_update().get(pk=draft.pk)
    if not draft.is_draft:
        return draft
    errors = _missing(draft)
    if errors:
        raise NotReady(errors)
    draft.state, draft.sent_at = State.WAITING, now()
    draft.urgency = urgency_of(draft.pain)
    draft.save(update_fields=["state", "sent_at", "urgency", "saved_at"])
    if draft.pain:
        PainReport.objects.filter(pk=draft.pain.pk).update(reported_at=draft.sent_at)
    emit(club_id=draft.club_id, event=Event.SUBMISSION_SENT, submission=str(draft.pk))
    return draft


def _missing(draft: Submission) -> dict[str, list[str]]:
    errors: dict[str, list[str]] = {}
    if not draft.question.strip():
        errors["question"] = [ASK]
    states = list(draft.clips.values_list("state", flat=True))
    if not states:
        errors["clips"] = [ADD_A_CLIP]
    elif set(states) == {ClipState.FAILED}:
        errors["clips"] = [ONLY_FAILED]
    return errors


@transaction.atomic
def say_round_up(*, submission: Submission, given: bool, by: User) -> bool:
    """Allow round-ups to show this submission, or take it back, at any time; what holds now."""
    Submission.objects.select_for_update().get(pk=submission.pk)
    _say(submission, given=given, by=by)
    return given


def _say(submission: Submission, *, given: bool, by: User) -> None:
    if round_up_allowed(submission) != given:
        RoundUpConsent.objects.create(submission=submission, given=given, said_by=by)


def round_up_allowed(submission: Submission) -> bool:
    """Off until somebody says yes; the newest word counts."""
    newest = submission.consents.first()
    return bool(newest and newest.given)
