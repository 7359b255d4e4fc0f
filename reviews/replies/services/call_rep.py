"""Calling a rep: to standard, not to standard, or can't tell from this angle."""

from collections.abc import Sequence
from dataclasses import dataclass
from uuid import UUID

from django.db import transaction

from athletes.models import User
from coachdesk.common.errors import Invalid
from reviews.library.merging import used_now
from reviews.library.models import Fault
from reviews.replies.frame_times import check_frames
from reviews.replies.models import Call, RepCall
from reviews.replies.permissions import clip_for_work

MOST_REPS = 50  # as many as a clip may say it holds


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """One rep's call and where the rep lies, each of them optional. Frames are inclusive."""

    call: str = ""
    faults: Sequence[Fault] = ()
    first_frame: int | None = None
    last_frame: int | None = None


@transaction.atomic
def call_rep(*, coach: User, clip_id: UUID, rep: int, verdict: Verdict) -> RepCall:
    """Make or change the call of one rep. One transaction.

    Raises:
        NotFound: the clip is not this coach's to review.
        Invalid: the rep or its range is not one of this clip, or faults stand beside another call.
        ClaimedByOther, NotClaimed: see `reviews.desk.claiming.extend`.
    """
    clip = clip_for_work(coach=coach, clip_id=clip_id)
    if not 1 <= rep <= MOST_REPS:
        raise Invalid(f"Reps are counted from 1 to {MOST_REPS}.")
    if verdict.faults and verdict.call != Call.NOT_STANDARD:
        raise Invalid("Only a rep that is not to standard names the faults that broke it.")
    if (verdict.first_frame is None) != (verdict.last_frame is None):
        raise Invalid("A rep's range needs its first and its last frame.")
    if verdict.first_frame is not None and verdict.last_frame is not None:
        check_frames(clip, verdict.first_frame, verdict.last_frame)
    row, _ = RepCall.objects.update_or_create(
        clip=clip,
        rep=rep,
        defaults={
            "call": verdict.call,
            "first_frame": verdict.first_frame,
            "last_frame": verdict.last_frame,
            "called_by": coach,
        },
    )
    # A palette that was read before a merge still offers the old one; what stands here stays.
    named = set(row.faults.values_list("pk", flat=True))
    row.faults.set([f if f.pk in named else used_now(f) for f in verdict.faults])
    return row
