"""A check-back and the reply it follows: what became of each focus point."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db import transaction

from athletes.models import User
from coachdesk.common.errors import Invalid, NotFound
from programming.corrections.models import Correction
from reviews.intake.models import Clip, Submission
from reviews.library.merging import used_instead
from reviews.library.models import Fault, Sight
from reviews.replies.models import CorrectionReason, Note, Outcome, RepCall, ReplyVersion, Result
from reviews.replies.outcome_proposals import (
    Proposal,
    frozen_calls,
    no_fault,
    not_shown,
    proposed,
    reps,
)
from reviews.replies.permissions import submission_for_work

NOT_ONE = "This is no check-back of an answered question, so there is no point to judge."


@dataclass(frozen=True, kw_only=True)
class Point:
    """A focus point of the earlier reply, as it was sent, and what is said of it now."""

    sent: dict[str, Any]
    proposal: Proposal
    said: Outcome | None

    @property
    def title(self) -> str:
        return str(self.sent["fault"] or self.sent["cue"] or self.sent["text"])


@dataclass(frozen=True, kw_only=True)
class FollowUp:
    """`version` is the earlier reply as the athlete has it now."""

    version: ReplyVersion
    points: list[Point]

    @property
    def unsaid(self) -> list[Point]:
        return [point for point in self.points if point.said is None]


def to_judge(version: ReplyVersion) -> list[dict[str, Any]]:
    """What a check-back answers: the focus points, then what was left for now but changed the
    programme all the same (such a one has no number). One statement."""
    question = version.reply.submission_id
    standing = Correction.objects.standing()
    made = CorrectionReason.objects.filter(submission=question, correction__in=standing)
    corrected = {str(pk) for pk in made.values_list("note", flat=True)}
    content = version.content
    return content["points"] + [one for one in content["rest"] if one["note"] in corrected]


def earlier_version(check_back: Submission) -> ReplyVersion | None:
    """What was last sent for the question that this one follows. One statement."""
    if check_back.check_back_of_id is None:
        return None
    sent = ReplyVersion.objects.filter(reply__submission=check_back.check_back_of_id)
    return sent.select_related("reply__submission").first()


@dataclass(frozen=True)
class _Evidence:
    """What the check-back itself says: each call with its clip and the faults it names, and the
    faults that its notes name."""

    calls: list[tuple[Clip, str, set[int]]]
    noted: set[int]


def follow_up_of(
    check_back: Submission,
    *,
    clips: Iterable[Clip],
    calls: Iterable[RepCall],
    notes: Iterable[Note],
) -> FollowUp | None:
    """The points to judge, each with its proposal from the check-back's own calls and notes; None
    when it follows no sent reply. Four statements for a check-back, none for another question.
    """
    version = earlier_version(check_back)
    if version is None:
        return None
    by_id = {clip.pk: clip for clip in clips}
    evidence = _Evidence(
        [(by_id[row.clip_id], row.call, {fault.pk for fault in row.faults.all()}) for row in calls],
        {note.fault_id for note in notes if note.fault_id is not None},
    )
    latest = Outcome.objects.filter(check_back=check_back).order_by("pk")
    said = {row.note: row for row in latest}  # the newest row of a point comes last
    judged = to_judge(version)
    # Merged since the reply went out: its calls name the old entry, the check-back's the new one.
    faults = used_instead(sent["fault_id"] for sent in judged if sent["fault_id"] is not None)
    points = [
        Point(
            sent=sent,
            proposal=_proposal(version, sent, evidence, faults.get(sent["fault_id"])),
            said=said.get(_key(sent)),
        )
        for sent in judged
    ]
    return FollowUp(version=version, points=points)


def _proposal(
    version: ReplyVersion, sent: dict[str, Any], evidence: _Evidence, used: Fault | None
) -> Proposal:
    """`used`: the library's entry today for the fault of the point."""
    fault = sent["fault_id"]
    if fault is None or used is None:
        return no_fault()
    same = {fault, used.pk}
    shown = [
        (call, {fault} if faults & same else faults)
        for clip, call, faults in evidence.calls
        if faults & same or _can_show(clip, used)
    ]
    after = reps(shown, fault)
    anywhere = reps([(call, faults) for _, call, faults in evidence.calls], fault)
    if anywhere.judged and not after.judged:
        return not_shown()
    before = reps(frozen_calls(version.content, sent["clip"]), fault)
    return proposed(before, after, noted=bool(same & evidence.noted))


def _can_show(clip: Clip, fault: Fault) -> bool:
    same_lift = clip.movement is None or clip.movement.family == fault.family
    return same_lift and fault.sight_from(clip.view) != Sight.NO


def _key(sent: dict[str, Any]) -> UUID:
    return UUID(sent["note"])


@transaction.atomic
def say_outcome(*, coach: User, check_back_id: UUID, note: UUID, result: Result) -> Outcome:
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
        raise Invalid(NOT_ONE)
    sent = next((point for point in to_judge(version) if _key(point) == note), None)
    if sent is None:
        raise NotFound("The earlier reply has no such point any more. Load the page again.")
    last = Outcome.objects.filter(check_back=check_back, note=note).last()
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
