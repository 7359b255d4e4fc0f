"""A submission with real clips: what a phone sent, made playable by the real pipeline."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from hashlib import sha256
from pathlib import Path
from typing import Any
from uuid import NAMESPACE_URL, UUID, uuid5

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.utils import timezone

from athletes.models import PainReport, User
from programming.models import Movement
from reviews.intake import jobs, making
from reviews.intake.models import Clip, State, Submission, Urgency

QUESTION = "Why do I tip forward on the last rep?"


def make_submission(athlete: User, *, pain: bool = False, **facts: Any) -> Submission:
    """A question that waits since yesterday."""
    report = None
    if pain:
        report = PainReport.objects.create(
            athlete=athlete, where="lower back", score=4, since="Monday", signs=[]
        )
    given = {"question": QUESTION, "tried": "wider stance, heels up 5 mm", **facts}
    return Submission.objects.create(
        club=athlete.club,
        athlete=athlete,
        state=State.WAITING,
        sent_at=timezone.now() - timedelta(days=1),
        pain=report,
        urgency=Urgency.PAIN if pain else Urgency.FORM,
        **given,
    )


def make_clip(submission: Submission, source: Path, **facts: Any) -> Clip:
    """Store the file as an upload does and run the media job on it, here and now."""
    content = source.read_bytes()
    given = {
        "movement": Movement.objects.get(name="Low-bar squat"),
        "load_kg": Decimal("150"),
        "reps": 3,
        "rpe": Decimal("8"),
        "view": "side",
        **facts,
    }
    clip = Clip.objects.create(
        submission=submission,
        position=submission.clips.count() + 1,
        original=default_storage.save(f"originals/{source.name}", ContentFile(content)),
        sha256=sha256(content).hexdigest(),
        size=len(content),
        **given,
    )
    making.attempt(jobs.enqueue(clip).pk)
    clip.refresh_from_db()
    assert clip.is_playable, clip.reason
    return clip


def make_more_clips(first: Clip, count: int) -> None:
    """As many clips of the same bytes: what was derived from them is there already."""
    for number in range(count):
        Clip.objects.create(
            submission=first.submission,
            position=first.submission.clips.count() + 1,
            movement=first.movement,
            load_kg=Decimal(60 + 10 * number),
            reps=3,
            view="side",
            sha256=first.sha256,
            size=first.size,
            state=first.state,
            frames=first.frames,
            recipe=first.recipe,
            made=first.made,
        )


def note_id(number: int) -> UUID:
    """A name for a note, as the page makes one."""
    return uuid5(NAMESPACE_URL, f"note {number}")
