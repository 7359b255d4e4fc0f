"""A check-back and the reply it follows: what became of each focus point."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from programming.plans.models.correction import Correction
from reviews.intake.models import Clip, Submission
from reviews.library.merging import used_instead
from reviews.library.models import Fault, Sight
from reviews.replies.models import CorrectionReason, Note, Outcome, RepCall, ReplyVersion
from reviews.replies.outcome_proposals import (
    Proposal,
    frozen_calls,
    no_fault,
    not_shown,
    proposed,
    reps,
)


@dataclass(frozen=True, kw_only=True)
class FollowUpPoint:
    """A focus point of the earlier reply, as it was sent, and what a coach said of it last."""

    sent: dict[str, Any]
    proposal: Proposal
    outcome: Outcome | None

    @property
    def title(self) -> str:
        return str(self.sent["fault"] or self.sent["cue"] or self.sent["text"])


@dataclass(frozen=True, kw_only=True)
class FollowUp:
    """`version` is the earlier reply as the athlete has it now."""

    version: ReplyVersion
    points: list[FollowUpPoint]

    @property
    def open_points(self) -> list[FollowUpPoint]:
        return [point for point in self.points if point.outcome is None]

    @property
    def judged_points(self) -> list[FollowUpPoint]:
        return [point for point in self.points if point.outcome is not None]


def points_to_judge(version: ReplyVersion) -> list[dict[str, Any]]:
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
    newest = {row.note: row for row in Outcome.objects.newest().filter(check_back=check_back)}
    judged = points_to_judge(version)
    # Merged since the reply went out: its calls name the old entry, the check-back's the new one.
    faults = used_instead(sent["fault_id"] for sent in judged if sent["fault_id"] is not None)
    points = [
        FollowUpPoint(
            sent=sent,
            proposal=_proposal(version, sent, evidence, faults.get(sent["fault_id"])),
            outcome=newest.get(UUID(sent["note"])),
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
