"""Everything the workbench needs, as one piece of JSON.

Frames are integers, first and last inclusive; ids are as the API takes them; an empty choice is
null. `urls` hold __id__, __clip__ and __rep__ where the page fills in a name.
"""

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.urls import reverse
from django.utils import timezone

from athletes.models import User
from programming.movements.families import Family
from reviews.desk.models import Claim
from reviews.intake.clip_data import clip_data
from reviews.intake.models import Submission
from reviews.replies.models import Note, RepCall, Reply
from reviews.replies.readiness import Review, may_publish
from reviews.replies.status import status_of

ANY = UUID(int=0)  # stands for a name that the page fills in


def workbench_data(submission: Submission, review: Review) -> dict[str, Any]:
    """The shape is fixed: `static/js/core/types.js` is its other half."""
    reader = review.reader
    clips = [clip_data(clip, reader) for clip in review.clips]
    return {
        "reader": reader.pk,
        "submission": _submission(submission, review),
        "urls": _urls(submission, review),
        "clips": clips,
        "opens_on": _opens_on(clips),
        "notes": [note_json(note) for note in review.notes],
        "rep_calls": [call_json(call) for call in review.calls],
        "outcomes": _outcomes(review),
        "reply": reply_json(review.reply, working=review.held),
        "claim": _claim(review.claim, reader),
        "may_publish": may_publish(review).to_json(),
    }


def _opens_on(clips: list[dict[str, Any]]) -> str:
    """The clip that shows the fault, where one says so and plays; else the first; "" for none."""
    shows = [clip for clip in clips if clip["shows_fault"] and clip["playable"]]
    return next((str(clip["id"]) for clip in [*shows, *clips]), "")


def _outcomes(review: Review) -> dict[str, str]:
    """What was said of the earlier points, by the note that each was."""
    points = review.follow_up.points if review.follow_up else []
    return {point.sent["note"]: point.said.result for point in points if point.said}


def _submission(submission: Submission, review: Review) -> dict[str, Any]:
    asked = submission.sent_at or submission.created_at
    return {
        "id": str(submission.pk),
        "question": submission.question,
        "tried": submission.tried,
        "goal": submission.get_goal_display() if submission.goal else "",
        "status": status_of(submission.state, review.claim),
        "athlete": {"id": submission.athlete_id, "name": submission.athlete.name},
        "equipment": submission.equipment_words,
        "pain": _pain(submission),
        "asked_at": timezone.localtime(asked).isoformat(),
    }


def _pain(submission: Submission) -> dict[str, Any] | None:
    pain = submission.pain
    if pain is None:
        return None
    return {
        "where": pain.where,
        "score": pain.score,
        "since": pain.since,
        "signs": pain.sign_questions,
    }


def _urls(submission: Submission, review: Review) -> dict[str, str]:
    def of(name: str) -> str:
        return reverse(name, args=[submission.pk])

    families = dict.fromkeys(clip.movement.family for clip in review.clips if clip.movement)
    lifts = urlencode({"family": list(families) or [Family.OTHER]}, doseq=True)
    rep = reverse("api-rep-call", args=[ANY, 0]).replace(str(ANY), "__clip__")
    return {
        "state": of("api-review"),
        "desk": reverse("desk"),
        "next": reverse("desk-next"),
        "publish": of("api-publish"),
        "claim": of("api-claim"),
        "library": f"{reverse('api-library')}?{lifts}",
        "reply": of("api-reply"),
        "note": reverse("api-note", args=[ANY]).replace(str(ANY), "__id__"),
        "outcome": reverse("api-outcome", args=[submission.pk, ANY]).replace(str(ANY), "__id__"),
        "rep": rep.replace("/0/", "/__rep__/"),
        "change": reverse("correction", args=[submission.pk, ANY]).replace(str(ANY), "__id__"),
        "coming": of("coming-sessions"),
        "angle": of("workbench-angle"),
    }


def _claim(claim: Claim | None, reader: User) -> dict[str, Any] | None:
    if claim is None:
        return None
    return {
        "coach": claim.coach.name,
        "mine": claim.coach_id == reader.pk,
        "until": timezone.localtime(claim.until).isoformat(),
    }


def note_json(note: Note) -> dict[str, Any]:
    return {
        "id": str(note.pk),
        "clip": str(note.clip_id),
        "first_frame": note.first_frame,
        "last_frame": note.last_frame,
        "phase": note.phase or None,
        "rep": note.rep,
        "text": note.text,
        "fault": note.fault_id,
        "fault_name": note.fault_name,
        "cue": note.cue_id,
        "cue_text": note.cue_text,
        "drill": note.drill_id,
        "drill_text": note.drill_text,
        "rank": note.rank,
    }


def call_json(call: RepCall) -> dict[str, Any]:
    return {
        "clip": str(call.clip_id),
        "rep": call.rep,
        "call": call.call or None,
        "faults": [fault.pk for fault in call.faults.all()],
        "first_frame": call.first_frame,
        "last_frame": call.last_frame,
    }


def reply_json(reply: Reply, *, working: bool) -> dict[str, Any]:
    """`version` is the last one sent, 0 while none was. `published` says that it is done: sent, and
    not taken up again by this reader to become the next version."""
    last = reply.versions.first() if reply.pk else None
    by = reply.film_again_by
    return {
        "opening": reply.opening,
        "film_again_by": by.isoformat() if by else None,
        "film_again_note": reply.film_again_note,
        "published": last is not None and not working,
        "version": last.number if last else 0,
    }
