"""What the rep calls of a check-back say about a focus point. Pure: a proposal for the coach.

The rule, for a point with a fault. A rep speaks of it when it was called to standard, or not to
standard with the faults that broke it, and its clip can show the fault: filmed from a view that
does, of the same lift. "Can't tell" is neither and never counts. Before are the reps of the clip
that the point lies on, after are those of the whole check-back.

1. No rep after speaks of it: can't tell.
2. None of those that speak shows it: gone; but can't tell when a note of the check-back names it,
   since then it was seen and not counted.
3. No rep call named it before: can't tell, for a rep to standard may show it as it did then.
4. Otherwise the shares of reps that show it are compared: lower is better, higher is worse.

It is our own rule of thumb, without a source: shares of three reps prove little, so a coach
confirms or changes it.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Any

from reviews.replies.models import Call, Result


@dataclass(frozen=True)
class Reps:
    """How many of the judged reps, those that speak of a fault, show it."""

    showing: int
    judged: int


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """What is proposed, and the count it rests on as a sentence."""

    result: Result
    why: str


def reps(calls: Iterable[tuple[str, Collection[int]]], fault: int) -> Reps:
    """Count `calls`, each a call and the faults it names. A rep that is not to standard and names
    none says of no fault whether it was there."""
    judged = [faults for call, faults in calls if _speaks(call, faults)]
    return Reps(showing=sum(fault in faults for faults in judged), judged=len(judged))


def frozen_calls(content: dict[str, Any], clip_id: str) -> list[tuple[str, list[int]]]:
    """The calls of one clip of a sent reply."""
    clips = [clip for clip in content["clips"] if clip["id"] == clip_id]
    return [(call["call"], call["fault_ids"]) for clip in clips for call in clip["calls"]]


def proposed(before: Reps, after: Reps, *, noted: bool) -> Proposal:
    """Apply the rule. `noted`: a note of the check-back names the fault."""
    if not after.judged:
        return _cannot_tell("No rep is judged yet.")
    if noted and not after.showing:
        return _cannot_tell(
            "A note names it, and no rep call does: call the rep, or say how it is."
        )
    now = f"{_share(after)} {'shows' if after.showing == 1 else 'show'} it"
    if not before.showing:
        now = now if after.showing else _none(after)
        return _cannot_tell(f"{now}; last time it was noted, and no rep call named it.")
    if not after.showing:
        return Proposal(result=Result.GONE, why=f"{_none(after)}.")
    # Integers, so that two thirds are two thirds.
    change = after.showing * before.judged - before.showing * after.judged
    result = Result.SAME if change == 0 else Result.BETTER if change < 0 else Result.WORSE
    return Proposal(result=result, why=f"{now}; last time {_share(before)}.")


def no_fault() -> Proposal:
    """A point in words alone."""
    return _cannot_tell("This point names no fault that a rep call counts.")


def not_shown() -> Proposal:
    """Reps were judged, and none on a clip that could show the fault."""
    return _cannot_tell("No judged rep is filmed so that it could show it.")


def _speaks(call: str, faults: Collection[int]) -> bool:
    return call == Call.STANDARD or (call == Call.NOT_STANDARD and bool(faults))


def _cannot_tell(why: str) -> Proposal:
    return Proposal(result=Result.CANNOT_TELL, why=why)


def _none(reps: Reps) -> str:
    if reps.judged > 1:
        return f"None of {reps.judged} judged reps shows it"
    return "The one judged rep does not show it"


def _share(reps: Reps) -> str:
    return f"{reps.showing} of {reps.judged} judged rep{'' if reps.judged == 1 else 's'}"
