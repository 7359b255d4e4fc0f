"""What is sent, as one piece of JSON that needs nothing else to be read.

The athlete reads this for ever after, so it holds words and seconds and not only keys: entries of
the library get renamed, movements corrected, clips erased.

Shape (format 1): {"format": 1, "coach": name, "question": str, "opening": str, "pain": bool,
"film_again": {"by": ISO date or null, "note": str}, "clips": [clip], "points": [moment],
"rest": [moment], "check_back": null or {"of": id of the earlier submission, "version": number of
the reply it follows, "outcomes": [{"note", "number", "title", "result"}]}, "changes": what the
review changed in the programme, see `selectors.programme_changes.changes_of`}.

A clip: {"id", "position", "movement", "load_kg": str or null, "reps", "rpe", "view", "seconds":
float or null, "calls": [{"rep", "call", "faults": [name], "fault_ids": [id], "first_frame",
"last_frame", "seconds", "until"}]}.

A moment: {"note", "number", "clip", "first_frame", "last_frame", "seconds", "until", "rep",
"phase", "fault", "text", "cue", "drill", "fault_id", "cue_id", "drill_id"}.

Moments and calls last from "seconds", when the first frame appears, until the last frame is gone;
looked up in the clip's frame table, and null where there is none.
"""

from typing import Any

from reviews.intake.models import Clip, Submission
from reviews.replies.frame_times import Clock, clock_of
from reviews.replies.models import Note, RepCall
from reviews.replies.readiness import Review
from reviews.replies.selectors.follow_up import FollowUp
from reviews.replies.selectors.programme_changes import changes_of

FORMAT = 1


def frozen(submission: Submission, review: Review) -> dict[str, Any]:
    clocks = {clip.pk: clock_of(clip) for clip in review.clips}
    numbers = {note.pk: number for number, note in enumerate(review.points, start=1)}
    moments = [_moment(note, numbers.get(note.pk), clocks[note.clip_id]) for note in review.notes]
    by = review.reply.film_again_by
    return {
        "format": FORMAT,
        "coach": review.reader.name,
        "question": submission.question,
        "opening": review.reply.opening.strip(),
        "pain": submission.pain_id is not None,
        "film_again": {
            "by": by.isoformat() if by else None,
            "note": review.reply.film_again_note.strip(),
        },
        "clips": [_clip(clip, review.calls, clocks[clip.pk]) for clip in review.clips],
        "points": sorted((m for m in moments if m["number"]), key=lambda m: m["number"]),
        "rest": [m for m in moments if not m["number"]],
        "check_back": _check_back(review.follow_up) if review.follow_up else None,
        "changes": changes_of(submission),
    }


def _check_back(follow_up: FollowUp) -> dict[str, Any]:
    version = follow_up.version
    said = [(point, point.said) for point in follow_up.points]
    return {
        "of": str(version.reply.submission_id),
        "version": version.number,
        "outcomes": [
            {
                "note": str(outcome.note),
                "number": outcome.number,
                "title": point.title,
                "result": outcome.result,
            }
            for point, outcome in said
            if outcome is not None
        ],
    }


def _clip(clip: Clip, calls: list[RepCall], clock: Clock | None) -> dict[str, Any]:
    return {
        "id": str(clip.pk),
        "position": clip.position,
        "movement": clip.movement.name if clip.movement else "",
        "load_kg": str(clip.load_kg) if clip.load_kg is not None else None,
        "reps": clip.reps,
        "rpe": str(clip.rpe) if clip.rpe is not None else None,
        "view": clip.get_view_display() if clip.view else "",
        "seconds": round(clock.seconds, 3) if clock else None,
        "calls": [_call(call, clock) for call in calls if call.clip_id == clip.pk and call.call],
    }


def _call(call: RepCall, clock: Clock | None) -> dict[str, Any]:
    first, last = call.first_frame, call.last_frame
    return {
        "rep": call.rep,
        "call": call.call,
        "faults": [fault.name for fault in call.faults.all()],
        "fault_ids": [fault.pk for fault in call.faults.all()],
        "first_frame": first,
        "last_frame": last,
        "seconds": clock.at(first) if clock and first is not None else None,
        "until": clock.until(last) if clock and last is not None else None,
    }


def _moment(note: Note, number: int | None, clock: Clock | None) -> dict[str, Any]:
    return {
        "note": str(note.pk),
        "number": number,
        "clip": str(note.clip_id),
        "first_frame": note.first_frame,
        "last_frame": note.last_frame,
        "seconds": clock.at(note.first_frame) if clock else None,
        "until": clock.until(note.last_frame) if clock else None,
        "rep": note.rep,
        "phase": note.phase,
        "fault": note.fault_name,
        "text": note.text.strip(),
        "cue": note.cue_text,
        "drill": note.drill_text,
        "fault_id": note.fault_id,
        "cue_id": note.cue_id,
        "drill_id": note.drill_id,
    }
