"""Calling a rep: to standard, not to standard, or can't tell from this angle."""

from collections.abc import Sequence
from uuid import UUID

from django.db import transaction

from athletes.models import User
from coachdesk.common.errors import Invalid
from reviews.library.merging import used_now
from reviews.library.models import Fault
from reviews.replies.frame_times import check_frames
from reviews.replies.models import Call, RepCall
from reviews.replies.models.rep_call import MAX_REPS
from reviews.replies.permissions import clip_for_work


@transaction.atomic
def call_rep(
    *,
    coach: User,
    clip_id: UUID,
    rep: int,
    call: str = "",
    faults: Sequence[Fault] = (),
    first_frame: int | None = None,
    last_frame: int | None = None,
) -> RepCall:
    """Make or change the call of one rep, and where the rep lies: frames are inclusive. One
    transaction.

    Raises:
        NotFound: the clip is not this coach's to review.
        Invalid: the rep or its range is not one of this clip, or faults stand beside another call.
        ClaimedByOther, NotClaimed: see `reviews.desk.claiming.extend`.
    """
    clip = clip_for_work(coach=coach, clip_id=clip_id)
    if not 1 <= rep <= MAX_REPS:
        raise Invalid(f"Reps are counted from 1 to {MAX_REPS}.")
    if faults and call != Call.NOT_STANDARD:
        raise Invalid("Only a rep that is not to standard names the faults that broke it.")
    if (first_frame is None) != (last_frame is None):
        raise Invalid("A rep's range needs its first and its last frame.")
    if first_frame is not None and last_frame is not None:
        check_frames(clip, first_frame, last_frame)
    row, _ = RepCall.objects.update_or_create(
        clip=clip,
        rep=rep,
        defaults={
            "call": call,
            "first_frame": first_frame,
            "last_frame": last_frame,
            "called_by": coach,
        },
    )
    # A palette that was read before a merge still offers the old one; what stands here stays.
    named = set(row.faults.values_list("pk", flat=True))
    row.faults.set([f if f.pk in named else used_now(f) for f in faults])
    return row
