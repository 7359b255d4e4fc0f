"""What the rep calls of a check-back say about a focus point. Pure: a proposal for the coach.

The rule, for a point with a fault. A rep is judged when it was called to standard or not to
standard; "can't tell" is neither and never counts. Before are the judged reps of the clip that the
point lies on, after are those of the whole check-back.

1. No rep judged after: can't tell.
2. No judged rep shows the fault: gone; but can't tell when a note of the check-back names it, since
   then it was seen and not counted.
3. No judged rep showed it before (the coach noted it and called nothing): can't tell.
4. Otherwise the shares of reps that show it are compared: lower is better, higher is worse.

It is our own rule of thumb, without a source: shares of three reps prove little, so a coach
confirms or changes it.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Any

from reviews.replies.models import Call, Result

JUDGED = {Call.STANDARD, Call.NOT_STANDARD}


@dataclass(frozen=True)
class Reps:
    """How many of the judged reps show a fault."""

    showing: int
    judged: int


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """What is proposed, and the count it rests on as a sentence."""

    result: Result
    why: str

    def to_json(self) -> dict[str, str]:
        return {"result": self.result, "why": self.why}


def reps(calls: Iterable[tuple[str, Collection[int]]], fault: int) -> Reps:
    """Count `calls`, each a call and the faults it names."""
    judged = [faults for call, faults in calls if call in JUDGED]
    return Reps(showing=sum(fault in faults for faults in judged), judged=len(judged))


def frozen_calls(content: dict[str, Any], clip_id: str) -> list[tuple[str, list[int]]]:
    """The calls of one clip of a sent reply."""
    clips = [clip for clip in content["clips"] if clip["id"] == clip_id]
    return [(call["call"], call["fault_ids"]) for clip in clips for call in clip["calls"]]


def proposed(before: Reps, after: Reps, *, noted: bool) -> Proposal:
    """Apply the rule. `noted`: a note of the check-back names the fault."""
    if not after.judged:
        return Proposal(result=Result.CANNOT_TELL, why="No rep is judged yet.")
    if not after.showing:
        return _unseen(after, noted=noted)
    now = f"{_share(after)} {'shows' if after.showing == 1 else 'show'} it"
    if not before.showing:
        why = f"{now}. Last time it was noted, and no rep call named it."
        return Proposal(result=Result.CANNOT_TELL, why=why)
    # Integers, so that two thirds are two thirds.
    change = after.showing * before.judged - before.showing * after.judged
    result = Result.SAME if change == 0 else Result.BETTER if change < 0 else Result.WORSE
    return Proposal(result=result, why=f"{now}; last time {_share(before)}.")


def no_fault() -> Proposal:
    """A point in words alone."""
    return Proposal(
        result=Result.CANNOT_TELL, why="This point names no fault that a rep call counts."
    )


def _unseen(after: Reps, *, noted: bool) -> Proposal:
    if noted:
        why = "A note names it, and no rep call does: call the rep, or say how it is."
        return Proposal(result=Result.CANNOT_TELL, why=why)
    return Proposal(
        result=Result.GONE,
        why=f"None of {after.judged} judged reps shows it."
        if after.judged > 1
        else "The one judged rep does not show it.",
    )


def _share(reps: Reps) -> str:
    return f"{reps.showing} of {reps.judged} judged rep{'' if reps.judged == 1 else 's'}"
