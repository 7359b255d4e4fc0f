"""What the demo's coaches answer has an order in time, and a fault reaches the programme."""

import json
from hashlib import sha256
from pathlib import Path

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage

from athletes.local_time import day_at, today_of
from coachdesk.demo.create_club import found
from coachdesk.demo.drawing.drawn_clip import Stage
from coachdesk.demo.drawing.truth import truth_of
from coachdesk.demo.play_scenario import spec_of, submissions
from coachdesk.demo.scenario import Ask
from coachdesk.demo.write_reply import answer
from programming.models import Correction, Prescription
from reviews.intake.models import Clip, ClipState, Submission
from reviews.replies.models import ReplyVersion

pytestmark = pytest.mark.django_db
FILES = {"playable": "playable.mp4", "poster": "poster.jpg", "frames": "frames.json"}


def make_playable(clip: Clip, stage: Stage) -> None:
    """As a worker leaves it, without the pictures: nobody looks at them here."""
    ticks = stage.ticks.tolist()
    strip = {"tile_width": 80, "tile_height": 45, "count": 1, "columns": 1, "frames": [0]}
    clip.sha256, clip.state = sha256(clip.pk.bytes).hexdigest(), ClipState.PLAYABLE
    clip.frames, clip.recipe = len(ticks), 1
    clip.made = {"files": FILES, "width": 540, "height": 960, "filmstrip": strip}
    clip.save()
    table = {"version": 1, "timescale": 90_000, "pts": ticks, "duration": ticks[-1] + 3000}
    table["time_scale"] = 1.0
    name = f"{clip.derived_folder}/frames.json"
    default_storage.save(name, ContentFile(json.dumps(table).encode()))


def write_truth(stage: Stage, path: Path) -> None:
    facts = (stage.line, stage.samples, stage.exact, stage.cameras, stage.plates, stage.ticks)
    path.write_text(json.dumps(truth_of(stage.spec, *facts, stage.strengths)))


@pytest.fixture
def answered(tmp_path: Path) -> tuple[Ask, Submission, ReplyVersion]:
    """The question that is checked back on, answered."""
    found()
    rows = submissions()
    followed = {ask.check_back_of for ask, _ in rows}
    ask, submission = next((ask, row) for ask, row in rows if ask.who in followed and ask.answer)
    for number, (shot, clip) in enumerate(
        zip(ask.shots, submission.clips.order_by("position"), strict=True)
    ):
        stage = Stage(spec_of(shot, number + 1, 1))
        make_playable(clip, stage)
        write_truth(stage, tmp_path / f"{clip.pk}.json")
    assert ask.answer is not None
    answer(submission, ask.answer, tmp_path)
    submission.refresh_from_db()
    return ask, submission, ReplyVersion.objects.get(reply__submission=submission)


def test_a_check_back_comes_after_the_reply_it_checks(answered) -> None:
    _, submission, version = answered
    check_back = Submission.objects.get(check_back_of=submission)
    assert submission.sent_at < version.sent_at < check_back.sent_at
    assert submission.answered_at == version.sent_at
    replied_on = day_at(submission.athlete, version.sent_at)
    assert replied_on < submission.reply.film_again_by


def test_a_fault_of_the_demo_reaches_the_programme_and_the_reply(answered) -> None:
    _, submission, version = answered
    correction = Correction.objects.get(athlete=submission.athlete)
    assert correction.said in json.dumps(version.content, ensure_ascii=False)
    added = Prescription.objects.filter(changes__correction=correction)
    assert added
    assert all(line.session.day >= today_of(submission.athlete) for line in added)
