"""What pages hear about a clip, in each of its states."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.utils import timezone

from athletes.models import Unit
from programming.logs.unusual_load import UnusualLoad
from programming.models import Movement
from reviews.intake.clip_data import clip_data, media_url, table_at_hand, with_progress
from reviews.intake.clips import save_clip
from reviews.intake.jobs import RECIPE
from reviews.intake.models import Clip, ClipState, JobState, MediaJob, Submission, Upload
from tests.programming.logs.rows import a_session, a_set

pytestmark = pytest.mark.django_db

# The panels' contract: static/js/core/types.js, typedef Clip.
NAMES = {
    "id", "position", "movement", "family", "phases", "load", "unit", "reps", "rpe", "effort",
    "view", "view_label", "shows",
    "shows_fault", "status", "progress", "reason", "playable", "frames_url", "poster", "filmstrip",
    "width", "height", "frame_count",
}  # fmt: skip
STRIP = {"columns": 10, "rows": 6, "tile_width": 170, "tile_height": 96, "count": 60}
MADE = {"width": 1280, "height": 720, "files": {}, "filmstrip": {**STRIP, "frames": [0, 5, 9]}}


@pytest.fixture
def clip(cast) -> Clip:
    submission = Submission.objects.create(club=cast.athlete.club, athlete=cast.athlete)
    return Clip.objects.create(submission=submission, sha256="ab" * 32)


def facts(clip: Clip, reader) -> dict:
    return clip_data(with_progress(Clip.objects.all()).get(pk=clip.pk), reader)


def test_a_new_clip_has_every_name_and_no_address(cast, clip) -> None:
    data = facts(clip, cast.athlete)
    assert set(data) == NAMES
    assert (data["status"], data["progress"], data["movement"]) == ("receiving", 0, "")
    assert (data["playable"], data["poster"], data["filmstrip"]) == ("", "", None)


def test_how_far_the_upload_and_then_the_making_is(cast, clip) -> None:
    Upload.objects.create(
        owner=cast.athlete,
        clip=clip,
        length=400,
        offset=100,
        expires_at=timezone.now() + timedelta(hours=1),
    )
    assert facts(clip, cast.coach)["progress"] == 0.25
    MediaJob.objects.create(clip=clip, recipe=RECIPE, state=JobState.QUEUED, progress=0.6)
    MediaJob.objects.create(clip=clip, recipe=RECIPE + 1, state=JobState.QUEUED, progress=0.9)
    Clip.objects.update(state=ClipState.PROCESSING)
    data = facts(clip, cast.coach)
    assert (data["status"], data["progress"]) == ("processing", 0.6)


def test_a_failed_clip_says_why(cast, clip) -> None:
    Clip.objects.update(state=ClipState.FAILED, reason="Trim it and send it again.")
    assert facts(clip, cast.athlete)["reason"] == "Trim it and send it again."


def test_a_playable_clip_says_where_everything_is(cast, clip) -> None:
    Clip.objects.update(state=ClipState.PLAYABLE, recipe=1, frames=10, made=MADE)
    clip.refresh_from_db()
    data = facts(clip, cast.coach)
    assert data["playable"] == media_url(clip, "playable")
    assert data["playable"] == f"/media/clips/{clip.pk}/playable?v=abababababab-1"
    assert data["frames_url"] == media_url(clip, "frames")
    assert (data["width"], data["height"], data["frame_count"]) == (1280, 720, 10)
    assert data["progress"] == 1
    assert data["filmstrip"] == {
        "url": media_url(clip, "filmstrip"),
        "tile_width": 170,
        "tile_height": 96,
        "count": 60,
        "columns": 10,
        "frames": [0, 5, 9],
    }


def test_a_short_frame_table_is_at_hand_and_a_damaged_one_is_left_to_be_asked_for(clip) -> None:
    made = MADE | {"files": {"frames": "frames.json"}}
    Clip.objects.update(state=ClipState.PLAYABLE, recipe=1, frames=2, made=made)
    clip.refresh_from_db()
    assert table_at_hand(clip) is None, "there is no file"
    default_storage.save(f"{clip.derived_folder}/frames.json", ContentFile(b'{"pts": [0, 3]}'))
    assert table_at_hand(clip) == {"pts": [0, 3]}
    clip.frames = 2001
    assert table_at_hand(clip) is None
    clip.frames = 2
    with default_storage.open(f"{clip.derived_folder}/frames.json", "wb") as file:
        file.write(b'{"pts": [0')
    assert table_at_hand(clip) is None


def test_what_was_on_the_bar_in_the_readers_unit(cast, clip) -> None:
    squat = Movement.objects.filter(club=None, family="squat").first()
    Clip.objects.update(movement=squat, load_kg=Decimal("102.5"), reps=3, rpe=Decimal("8.0"))
    data = facts(clip, cast.coach)
    assert (data["movement"], data["family"]) == (squat.name, "squat")
    assert data["phases"] == ["setup", "descent", "turnaround", "ascent", "lockout"]
    assert (data["load"], data["unit"], data["reps"], data["rpe"]) == ("102.5", "kg", 3, "8")
    cast.coach.unit = Unit.LB
    assert (facts(clip, cast.coach)["load"], facts(clip, cast.coach)["unit"]) == ("226", "lb")


def test_a_load_in_question_is_not_shown_until_it_is_confirmed(cast, clip) -> None:
    squatted = a_set(a_session(cast.athlete), load=Decimal(210), reps=1)
    heavy = {"movement": squatted.movement, "load_kg": Decimal(250)}
    with pytest.raises(UnusualLoad):
        save_clip(clip=clip, changes=heavy)
    assert facts(clip, cast.coach)["load"] == ""
    save_clip(clip=clip, changes=heavy, load_confirmed=True)
    assert facts(clip, cast.coach)["load"] == "250"


@pytest.mark.parametrize(
    ("rpe", "reserve", "shown"),
    [
        ("8.5", None, "8.5"),
        ("10", None, "10"),
        # Zourdos et al. 2016: 10 is 0 in reserve, 9 is 1, 8 is 2, 7 is 3; 5 to 6 is 4 to 6.
        (None, 0, "10"),
        (None, 3, "7"),
        (None, 6, ""),
        (None, None, ""),
    ],
)
def test_effort(cast, clip, rpe, reserve, shown: str) -> None:
    Clip.objects.update(rpe=rpe and Decimal(rpe), reps_in_reserve=reserve)
    assert facts(clip, cast.coach)["rpe"] == shown


def test_many_clips_cost_three_statements(cast, clip, django_assert_num_queries) -> None:
    for n in range(6):
        Clip.objects.create(submission=clip.submission, position=n + 2)
    with django_assert_num_queries(3):
        assert len([clip_data(one, cast.coach) for one in with_progress(Clip.objects.all())]) == 7
