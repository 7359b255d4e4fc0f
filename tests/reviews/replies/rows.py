"""Rows these tests begin with."""

import json
from datetime import timedelta
from decimal import Decimal
from hashlib import sha256
from typing import Any
from uuid import uuid4

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from athletes.models import User
from programming.models import Movement
from reviews.desk.claiming import claim
from reviews.intake.models import Clip, ClipState, State, Submission
from reviews.replies.models import Note
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.save_note import save_note
from reviews.replies.services.save_reply import save_reply

# Variable on purpose: frame / rate would give other seconds than the table does.
PTS = [0, 33, 70, 100, 141, 166, 200, 233, 290, 300]
DURATION = 340
SECONDS_OF_FRAME_4 = 0.141


def a_submission(athlete: User, **facts: Any) -> Submission:
    defaults = {
        "club_id": athlete.club_id,
        "question": "Why do I tip forward on the last rep?",
        "state": State.WAITING,
        "sent_at": timezone.now() - timedelta(days=1),
    }
    return Submission.objects.create(athlete=athlete, **{**defaults, **facts})


def a_clip(submission: Submission, **facts: Any) -> Clip:
    """A playable one, its frame table in storage; `state=` another for one that is not."""
    position = submission.clips.count() + 1
    movement = Movement.objects.filter(club=None, family="squat").first()
    defaults: dict[str, Any] = {
        "position": position,
        "movement": movement,
        "load_kg": Decimal("150"),
        "reps": 3,
        "view": "side",
        "sha256": sha256(uuid4().bytes).hexdigest(),
        "state": ClipState.PLAYABLE,
    }
    values = {**defaults, **facts}
    if values["state"] == ClipState.PLAYABLE:
        values |= {"frames": len(PTS), "recipe": 1, "made": _made()}
    clip = Clip.objects.create(submission=submission, **values)
    if clip.is_playable:
        table = {"version": 1, "timescale": 1000, "pts": PTS, "duration": DURATION}
        table["time_scale"] = 1.0
        name = f"{clip.derived_folder}/frames.json"
        default_storage.save(name, ContentFile(json.dumps(table).encode()))
    return clip


def _made() -> dict[str, Any]:
    strip = {"tile_width": 80, "tile_height": 45, "count": 1, "columns": 1, "frames": [0]}
    files = {"playable": "playable.mp4", "poster": "poster.jpg", "frames": "frames.json"}
    return {"files": files, "width": 1280, "height": 720, "filmstrip": strip}


def a_note(coach: User, clip: Clip, first: int = 4, last: int = 4, **facts: Any) -> Note:
    """Claims the submission for the coach, as the page does."""
    claim(submission=clip.submission, coach=coach)
    seen = dict(clip_id=clip.pk, first_frame=first, last_frame=last, **facts)
    return save_note(coach=coach, note_id=uuid4(), **seen)


def an_answer(coach: User, submission: Submission, opening: str = "Three strong reps.") -> Any:
    """A published version that says `opening`."""
    claim(submission=submission, coach=coach)
    save_reply(coach=coach, submission_id=submission.pk, fields={"opening": opening})
    return publish_reply(coach=coach, submission_id=submission.pk)


def statements(client: Client, url: str) -> int:
    """How many SQL statements one reading costs, once the session has been told of."""
    client.get(url)
    with CaptureQueriesContext(connection) as captured:
        assert client.get(url).status_code == 200
    return len(captured)
