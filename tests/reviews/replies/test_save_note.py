"""A note lies on its clip, keeps its words, and is changed by nobody but the coach who has it."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.utils import timezone

from coachdesk.common.errors import Invalid, NotFound
from reviews.desk.claiming import ClaimedByOther, NotClaimed, claim
from reviews.desk.models import Claim
from reviews.intake.models import ClipState
from reviews.library.models import Cue, Drill, Fault
from reviews.replies.models import Note
from reviews.replies.services.save_note import delete_note, save_note
from tests.reviews.replies.rows import PTS, a_clip, a_note, a_submission

pytestmark = pytest.mark.django_db


@pytest.fixture
def clip(cast):
    return a_clip(a_submission(cast.athlete))


@pytest.fixture
def fault(club):
    return Fault.objects.create(club=club, family="squat", phase="ascent", name="Hips lead the bar")


def at_start(clip) -> dict:
    return {"clip_id": clip.pk, "first_frame": 0, "last_frame": 0}


def test_saving_twice_over_a_bad_network_makes_one_note(cast, clip) -> None:
    claim(submission=clip.submission, coach=cast.coach)
    name = uuid4()
    for text in ("first", "second"):
        seen = {"clip_id": clip.pk, "first_frame": 1, "last_frame": 2, "text": text}
        save_note(coach=cast.coach, note_id=name, **seen)
    assert [note.text for note in Note.objects.all()] == ["second"]


@pytest.mark.parametrize(("first", "last"), [(0, len(PTS)), (len(PTS), len(PTS)), (3, 2)])
def test_a_moment_outside_the_frame_table_is_refused(cast, clip, first, last) -> None:
    with pytest.raises(Invalid):
        a_note(cast.coach, clip, first, last)
    assert not Note.objects.exists()


def test_the_last_frame_of_the_table_can_be_noted(cast, clip) -> None:
    assert a_note(cast.coach, clip, 0, len(PTS) - 1).last_frame == len(PTS) - 1


def test_a_clip_without_frames_cannot_be_noted(cast) -> None:
    clip = a_clip(a_submission(cast.athlete), state=ClipState.PROCESSING)
    with pytest.raises(Invalid, match="no frames to point at yet"):
        a_note(cast.coach, clip, 0, 0)


def test_an_old_note_keeps_what_it_said(cast, clip, club, fault) -> None:
    cue = Cue.objects.create(club=club, text="Shove the bar back into the wall")
    drill = Drill.objects.create(club=club, name="Pause squat", dose="3 × 4")
    note = a_note(cast.coach, clip, fault=fault, cue=cue, drill=drill)
    Fault.objects.filter(pk=fault.pk).update(name="Renamed")
    Cue.objects.all().delete()
    Drill.objects.filter(pk=drill.pk).update(name="Other")
    fault.refresh_from_db()
    drill.refresh_from_db()
    seen = {"clip_id": clip.pk, "first_frame": 5, "last_frame": 5, "fault": fault, "drill": drill}
    save_note(coach=cast.coach, note_id=note.pk, **seen)
    note.refresh_from_db()
    assert note.fault_name == "Hips lead the bar"
    assert note.cue_text == "Shove the bar back into the wall"
    assert note.drill_text == "Pause squat, 3 × 4"


def test_a_cue_and_a_drill_in_the_coachs_own_words(cast, clip, club) -> None:
    cue = Cue.objects.create(club=club, text="Shove the bar back into the wall")
    note = a_note(cast.coach, clip, cue_text="Chest to the bar", drill_text="Long pauses, 2 × 2")
    assert (note.cue_text, note.drill_text) == ("Chest to the bar", "Long pauses, 2 × 2")
    for seen in (
        {
            "clip_id": clip.pk,
            "first_frame": 5,
            "last_frame": 5,
            "cue": cue,
            "cue_text": "not these",
        },
        {"clip_id": clip.pk, "first_frame": 5, "last_frame": 5, "cue": cue, "drill_text": ""},
    ):
        save_note(coach=cast.coach, note_id=note.pk, **seen)
    note.refresh_from_db()
    assert (note.cue_text, note.drill_text) == ("Shove the bar back into the wall", "")


def test_dropping_a_fault_drops_its_name(cast, clip, fault) -> None:
    note = a_note(cast.coach, clip, fault=fault)
    seen = {"clip_id": clip.pk, "first_frame": 5, "last_frame": 5}
    save_note(coach=cast.coach, note_id=note.pk, **seen)
    note.refresh_from_db()
    assert (note.fault, note.fault_name) == (None, "")


def test_a_clip_of_another_club_is_not_there(cast) -> None:
    theirs = a_clip(a_submission(cast.outsider))
    with pytest.raises(NotFound):
        save_note(
            coach=cast.coach,
            note_id=uuid4(),
            clip_id=theirs.pk,
            first_frame=0,
            last_frame=0,
        )


def test_the_name_of_a_foreign_note_cannot_be_taken_over(cast, clip) -> None:
    theirs = a_note(cast.stranger, a_clip(a_submission(cast.outsider)), text="theirs")
    claim(submission=clip.submission, coach=cast.coach)
    with pytest.raises(NotFound):
        save_note(
            coach=cast.coach,
            note_id=theirs.pk,
            clip_id=clip.pk,
            first_frame=0,
            last_frame=0,
        )
    with pytest.raises(NotFound):
        delete_note(coach=cast.coach, note_id=theirs.pk)
    theirs.refresh_from_db()
    assert theirs.text == "theirs"


def test_a_note_moves_between_clips_of_one_submission_only(cast, clip) -> None:
    note = a_note(cast.coach, clip)
    second = a_clip(clip.submission)
    other = a_clip(a_submission(cast.other_athlete))
    claim(submission=other.submission, coach=cast.coach)
    moved = {"clip_id": second.pk, "first_frame": 0, "last_frame": 0}
    assert save_note(coach=cast.coach, note_id=note.pk, **moved).clip == second
    with pytest.raises(NotFound):
        save_note(coach=cast.coach, note_id=note.pk, **at_start(other))


def test_only_the_coach_who_has_the_claim_saves(cast, clip) -> None:
    seen = {"clip_id": clip.pk, "first_frame": 0, "last_frame": 0}
    with pytest.raises(NotClaimed):
        save_note(coach=cast.coach, note_id=uuid4(), **seen)
    note = a_note(cast.coach, clip)
    with pytest.raises(ClaimedByOther, match="Tove claimed it at"):
        save_note(coach=cast.second_coach, note_id=uuid4(), **seen)
    with pytest.raises(ClaimedByOther):
        delete_note(coach=cast.second_coach, note_id=note.pk)


def test_saving_extends_the_lease(cast, clip) -> None:
    claim(submission=clip.submission, coach=cast.coach)
    soon = timezone.now() + timedelta(minutes=1)
    Claim.objects.update(until=soon)
    save_note(coach=cast.coach, note_id=uuid4(), **at_start(clip))
    assert Claim.objects.get().until > soon


def test_taking_away_what_is_gone_does_no_harm(cast, clip) -> None:
    note = a_note(cast.coach, clip)
    assert delete_note(coach=cast.coach, note_id=note.pk) == clip.submission
    assert delete_note(coach=cast.coach, note_id=note.pk) is None
