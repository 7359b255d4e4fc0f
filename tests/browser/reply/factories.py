"""Answered submissions whose clips really play: made by the pipeline, numbered pictures."""

import functools
import os
import tempfile
from datetime import timedelta
from hashlib import sha256
from pathlib import Path
from typing import Any
from uuid import uuid4

from django.utils import timezone

from athletes.models import PainReport, User
from reviews.desk.claiming import claim
from reviews.intake.jobs import RECIPE
from reviews.intake.models import Clip, ClipState, Submission, Urgency
from reviews.intake.publishing import store
from reviews.library.models import Cue, Drill, Fault
from reviews.media.limits import Limits
from reviews.media.process import process
from reviews.replies.models import ReplyVersion
from reviews.replies.services.call_rep import call_rep
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.save_reply import save_reply
from tests.browser.player import clips
from tests.conftest import Cast
from tests.reviews.replies.rows import a_clip, a_note, a_submission

KEPT = tempfile.TemporaryDirectory(prefix="reply-clips-")  # goes when the tests end
LIMITS = Limits(max_bytes=1 << 30, max_seconds=60)
FRAMES = 120
FIRST_STOP, SECOND_STOP = 88, 41  # by number; when played, the second comes by first
LONG = "Maximiliane Oyelaran-Szczepaniak von Hohenfelden"


@functools.cache
def _made(name: str) -> tuple[Path, str, dict[str, Any]]:
    """Made once for all tests: a folder of derived files, the original's sum, the facts."""
    folder = Path(KEPT.name) / name
    folder.mkdir()
    given = os.environ.get("COACHDESK_SHOW_CLIP", "")  # a prettier one, for pictures to look at
    source = Path(given) if given else folder / "source.mp4"
    if not given:
        times = clips.variable(FRAMES) if name == "variable" else clips.constant(FRAMES)
        clips.write(source, times)
    made = process(source, folder / "out", on_progress=lambda part: None, limits=LIMITS)
    return folder / "out", sha256(source.read_bytes()).hexdigest(), made.to_json()


def make_clip(submission: Submission, name: str = "variable", **facts: Any) -> Clip:
    """A clip that plays. Storing moves files, so each gets a copy by links."""
    out, digest, made = _made(name)
    with tempfile.TemporaryDirectory(dir=KEPT.name) as copy:
        for path in out.iterdir():
            os.link(path, Path(copy) / path.name)
        store(Path(copy), sha256=digest, recipe=RECIPE, holder=uuid4().hex)
    clip = a_clip(submission, state=ClipState.PROCESSING, sha256=digest, **facts)
    clip.state, clip.recipe, clip.frames, clip.made = "playable", RECIPE, made["frames"], made
    clip.save()
    return clip


def report_pain(submission: Submission, *signs: str) -> Submission:
    report = PainReport.objects.create(
        athlete=submission.athlete, where="lower back", score=4, since="Tuesday", signs=list(signs)
    )
    submission.pain = report
    submission.urgency = Urgency.WARNING_SIGN if signs else Urgency.PAIN
    submission.save()
    return submission


def make_reply(cast: Cast, clip: Clip, *, film: bool = True) -> ReplyVersion:
    """Two focus points, one note left for now, two calls and a day to film again."""
    coach, club = cast.coach, cast.coach.club
    fault = Fault.objects.get(club=club, name="Hips rise first")
    cue = Cue.objects.create(club=club, text="Shove the bar back into the wall.")
    drill = Drill.objects.create(
        club=club, name="Pause squat", dose="2 seconds at the bottom, 3 × 4"
    )
    why = (
        "Out of the turnaround your legs straighten and the bar does not move. "
        "Your back has to lift it from there."
    )
    one = a_note(
        coach, clip, FIRST_STOP, FIRST_STOP + 6, fault=fault, cue=cue, drill=drill, text=why,
        rep=3, phase="ascent",
    )  # fmt: skip
    floor = Cue.objects.create(club=club, text="One flat print on the floor.")
    toes = "Your weight rolls to the toes: the last of it goes down with the knees alone."
    two = a_note(
        coach, clip, SECOND_STOP, SECOND_STOP, cue=floor, text=toes, rep=2, phase="descent"
    )
    a_note(coach, clip, 10, 10, text="Grip a thumb wider than last time.", rep=1, phase="setup")
    good = {"call": "standard", "first_frame": 5, "last_frame": 35}
    unsure = {"call": "cannot-tell", "first_frame": 36, "last_frame": 66}
    broken = {"call": "not-standard", "faults": [fault], "first_frame": 70, "last_frame": 110}
    for rep, verdict in enumerate([good, unsure, broken], start=1):
        call_rep(coach=coach, clip_id=clip.pk, rep=rep, **verdict)
    fields: dict[str, Any] = {}
    if film:
        fields["film_again_by"] = timezone.localdate() + timedelta(days=9)
        fields["film_again_note"] = "Your last set of three, side view, whole disc in the picture."
    save_reply(coach=coach, submission_id=clip.submission_id, fields=fields, ranks=[one.pk, two.pk])
    return publish_reply(coach=coach, submission_id=clip.submission_id)


def make_answered_submission(cast: Cast, athlete: User | None = None) -> Submission:
    submission = a_submission(athlete or cast.athlete)
    make_reply(cast, make_clip(submission))
    return submission


def make_reply_in_words(cast: Cast, submission: Submission) -> ReplyVersion:
    claim(submission=submission, coach=cast.coach)
    words = {"opening": "Nothing to fix here. Go up 2.5 kg next week and send me the top set."}
    save_reply(coach=cast.coach, submission_id=submission.pk, fields=words)
    return publish_reply(coach=cast.coach, submission_id=submission.pk)
