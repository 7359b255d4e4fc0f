"""What a published reply says of a filmed set: its rep calls as a verdict for the maxes."""

from collections import Counter

from athletes.local_time import day_at
from programming.load.effort import rpe_of
from programming.logs.services.record_verdicts import Judged, record_verdicts
from reviews.intake.models import Clip, Submission
from reviews.replies.models import Call


def record_calls(submission: Submission) -> None:
    """Hand the calls of each clip to the maxes, inside the caller's transaction. A clip without a
    movement, a load and reps, or without a single call, says nothing about a max."""
    clips = submission.clips.select_related("movement").prefetch_related("rep_calls")
    judged, unjudged = [], []
    for clip in clips:
        verdict = _verdict(clip, submission)
        if verdict is None:
            unjudged.append(clip.pk)
        else:
            judged.append(verdict)
    record_verdicts(athlete=submission.athlete, judged=judged, unjudged=unjudged)


def _verdict(clip: Clip, submission: Submission) -> Judged | None:
    calls = {row.rep: row.call for row in clip.rep_calls.all() if row.call}
    if clip.movement is None or not clip.load_kg or not clip.reps or not calls:
        return None
    said = Counter(calls.values())
    return Judged(
        source=clip.pk,
        movement=clip.movement,
        day=day_at(submission.athlete, clip.created_at),
        load_kg=clip.load_kg,
        # The athlete may have miscounted; a rep that was called was tried.
        reps=max(clip.reps, *calls),
        rpe=rpe_of(clip.rpe, clip.reps_in_reserve),
        to_standard=said[Call.STANDARD],
        not_to_standard=said[Call.NOT_STANDARD],
        cannot_tell=said[Call.CANNOT_TELL],
    )
