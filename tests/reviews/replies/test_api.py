"""The workbench's REST: shapes, refusals as problem details (RFC 9457), foreign ids."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from reviews.desk.claiming import claim
from reviews.library.models import Cue, Fault
from reviews.replies.models import Note, RepCall, Reply, ReplyVersion
from reviews.replies.services.call_rep import call_rep
from tests.reviews.replies.rows import (
    PTS,
    a_clip,
    a_note,
    a_submission,
    an_answer,
    statements,
)

pytestmark = pytest.mark.django_db
JSON = "application/json"


@pytest.fixture
def submission(cast):
    return a_submission(cast.athlete)


@pytest.fixture
def clip(submission):
    return a_clip(submission)


def signed_in(person) -> Client:
    client = Client()
    client.force_login(person)
    return client


@pytest.fixture
def coach(cast, submission) -> Client:
    """The coach who has claimed it."""
    claim(submission=submission, coach=cast.coach)
    return signed_in(cast.coach)


def body(clip, **more):
    return {"clip": str(clip.pk), "first_frame": 1, "last_frame": 2, **more}


def note_url(name=None) -> str:
    return reverse("api-note", args=[name or uuid4()])


def problem(response, status: int) -> str:
    """RFC 9457, section 3: the media type, and the members title, status and detail."""
    assert response.status_code == status, response.content
    assert response["Content-Type"] == "application/problem+json"
    told = response.json()
    assert told["status"] == status
    assert told["title"]
    return told["detail"]


def test_a_note_goes_in_and_comes_out_of_the_review(coach, cast, club, submission, clip) -> None:
    fault = Fault.objects.filter(club=club, family="squat").first()
    name = uuid4()
    sent = body(clip, text="x", phase="ascent", rep=3, fault=fault.pk, rank=1, cue=None, drill=None)
    answer = coach.put(note_url(name), sent, JSON)
    assert answer.status_code == 200
    assert answer.json()["may_publish"] == {"ok": True, "why": ""}
    told = coach.get(reverse("api-review", args=[submission.pk])).json()
    (note,) = told["notes"]
    assert note == {
        "id": str(name),
        "clip": str(clip.pk),
        "first_frame": 1,
        "last_frame": 2,
        "phase": "ascent",
        "rep": 3,
        "text": "x",
        "fault": fault.pk,
        "fault_name": fault.name,
        "cue": None,
        "cue_text": "",
        "drill": None,
        "drill_text": "",
        "rank": 1,
    }


def test_what_the_review_hands_out_can_be_sent_back_unchanged(coach, submission, clip) -> None:
    name = uuid4()
    coach.put(note_url(name), body(clip, text="x"), JSON)
    (note,) = coach.get(reverse("api-review", args=[submission.pk])).json()["notes"]
    assert coach.put(note_url(name), note, JSON).json()["note"] == note


def test_the_review_has_every_part(coach, submission, clip) -> None:
    told = coach.get(reverse("api-review", args=[submission.pk])).json()
    assert set(told) == {
        "reader",
        "submission",
        "urls",
        "clips",
        "opens_on",
        "notes",
        "rep_calls",
        "reply",
        "claim",
        "may_publish",
        "outcomes",
    }
    assert told["claim"]["mine"] is True
    assert told["submission"]["status"] == "claimed"
    assert told["urls"]["note"] == "/api/v1/notes/__id__/"
    assert told["urls"]["rep"] == "/api/v1/clips/__clip__/reps/__rep__/"
    assert told["urls"]["library"] == "/api/v1/library/?family=squat"
    assert coach.get(told["urls"]["library"]).status_code == 200
    assert told["clips"][0]["frame_count"] == len(PTS)


def test_a_rep_is_called(coach, club, clip) -> None:
    fault = Fault.objects.filter(club=club).first()
    url = reverse("api-rep-call", args=[clip.pk, 2])
    sent = {"call": "not-standard", "faults": [fault.pk], "first_frame": 1, "last_frame": 4}
    assert coach.put(url, sent, JSON).json()["rep_call"] == {
        "clip": str(clip.pk),
        "rep": 2,
        **sent,
    }
    coach.put(url, {"call": "standard", "faults": []}, JSON)
    assert [(call.call, call.faults.count()) for call in RepCall.objects.all()] == [("standard", 0)]
    cleared = coach.put(url, {"call": None, "faults": []}, JSON)
    assert cleared.json()["rep_call"]["call"] is None


@pytest.mark.parametrize(
    ("rep", "sent"),
    [
        (1, {"call": "standard", "faults": "FAULT"}),
        (1, {"call": "cannot-tell", "faults": "FAULT"}),
        (1, {"call": "standard", "first_frame": 3}),
        (1, {"call": "standard", "first_frame": 3, "last_frame": 2}),
        (1, {"call": "standard", "first_frame": 3, "last_frame": len(PTS)}),
        (0, {"call": "standard"}),
        (51, {"call": "standard"}),
    ],
)
def test_a_call_that_cannot_be_is_refused_with_a_sentence(coach, club, clip, rep, sent) -> None:
    fault = Fault.objects.filter(club=club).first()
    sent = {**sent, "faults": [fault.pk] if sent.get("faults") else []}
    answer = coach.put(reverse("api-rep-call", args=[clip.pk, rep]), sent, JSON)
    assert problem(answer, 422).endswith(".")
    assert not RepCall.objects.exists()


def test_only_entries_of_the_own_library_are_known(coach, cast, clip) -> None:
    theirs = Fault.objects.filter(club=cast.stranger.club).first()
    cue = Cue.objects.filter(club=cast.stranger.club).first()
    problem(coach.put(note_url(), body(clip, fault=theirs.pk), JSON), 400)
    problem(coach.put(note_url(), body(clip, cue=cue.pk), JSON), 400)
    url = reverse("api-rep-call", args=[clip.pk, 1])
    problem(coach.put(url, {"call": "not-standard", "faults": [theirs.pk]}, JSON), 400)


def test_a_moment_off_the_clip_is_a_sentence(coach, clip) -> None:
    answer = coach.put(note_url(), body(clip, last_frame=len(PTS)), JSON)
    assert problem(answer, 422) == f"Clip 1 has frames 0 to {len(PTS) - 1}."


def test_without_the_claim_the_answer_says_who_has_it(cast, coach, submission, clip) -> None:
    other = signed_in(cast.second_coach)
    said = problem(other.put(note_url(), body(clip), JSON), 409)
    assert said.startswith("Tove claimed it at ")
    reply = reverse("api-reply", args=[submission.pk])
    problem(other.patch(reply, {"opening": "x"}, JSON), 409)
    problem(other.post(reverse("api-publish", args=[submission.pk])), 409)
    told = other.get(reverse("api-review", args=[submission.pk])).json()
    assert told["claim"]["mine"] is False
    assert told["may_publish"]["ok"] is False
    assert told["may_publish"]["why"] == said


def test_the_reply_is_saved_field_by_field(coach, submission) -> None:
    url = reverse("api-reply", args=[submission.pk])
    by = (timezone.localdate() + timedelta(days=3)).isoformat()
    coach.patch(url, {"opening": "Hello"}, JSON)
    answer = coach.patch(url, {"film_again_by": by}, JSON).json()
    assert answer["reply"]["opening"] == "Hello"
    assert answer["reply"]["film_again_by"] == by
    coach.patch(url, {"film_again_by": None}, JSON)
    assert Reply.objects.get().film_again_by is None


def test_publish_answers_with_the_version(coach, submission) -> None:
    coach.patch(reverse("api-reply", args=[submission.pk]), {"opening": "Hello"}, JSON)
    url = reverse("api-publish", args=[submission.pk])
    answer = coach.post(url).json()
    assert answer["reply"]["published"] is True
    assert answer["reply"]["version"] == 1
    assert answer["may_publish"]["ok"] is False
    assert coach.post(url).json()["reply"]["version"] == 1
    assert ReplyVersion.objects.count() == 1


def test_a_sent_reply_that_is_taken_up_again_can_be_sent_again(cast, submission) -> None:
    an_answer(cast.coach, submission)
    other, url = signed_in(cast.second_coach), reverse("api-review", args=[submission.pk])
    assert other.get(url).json()["reply"] == {
        "opening": "Three strong reps.",
        "film_again_by": None,
        "film_again_note": "",
        "published": True,
        "version": 1,
    }
    other.post(reverse("api-claim", args=[submission.pk]))
    told = other.get(url).json()
    assert (told["reply"]["published"], told["may_publish"]["ok"]) == (False, True)
    other.patch(reverse("api-reply", args=[submission.pk]), {"opening": "Better."}, JSON)
    answer = other.post(reverse("api-publish", args=[submission.pk])).json()
    assert (answer["reply"]["published"], answer["reply"]["version"]) == (True, 2)


def test_deleting_twice_is_no_error(coach, cast, clip) -> None:
    note = a_note(cast.coach, clip)
    assert "may_publish" in coach.delete(note_url(note.pk)).json()
    assert coach.delete(note_url(note.pk)).status_code == 204


@pytest.mark.parametrize("who", ["stranger", "athlete", "other_athlete", "outsider"])
def test_to_everybody_else_it_is_not_there(cast, submission, clip, who) -> None:
    note = a_note(cast.coach, clip)
    client = signed_in(getattr(cast, who))
    problem(client.put(note_url(note.pk), body(clip), JSON), 404)
    problem(client.put(note_url(), body(clip), JSON), 404)
    problem(client.delete(note_url(note.pk)), 404)
    problem(client.put(reverse("api-rep-call", args=[clip.pk, 1]), {"call": "standard"}, JSON), 404)
    problem(client.patch(reverse("api-reply", args=[submission.pk]), {}, JSON), 404)
    problem(client.post(reverse("api-publish", args=[submission.pk])), 404)
    problem(client.get(reverse("api-review", args=[submission.pk])), 404)
    assert Note.objects.get().text == ""


def test_reading_takes_the_same_statements_however_long_it_is(cast, submission, clip) -> None:
    faults = Fault.objects.filter(club=cast.coach.club)[:3]
    call = {"call": "not-standard", "faults": faults}

    def grow(frame: int) -> None:
        a_note(cast.coach, clip, frame, frame)
        call_rep(coach=cast.coach, clip_id=clip.pk, rep=frame + 1, **call)
        a_clip(submission)

    grow(0)
    an_answer(cast.coach, submission)
    client, url = signed_in(cast.coach), reverse("api-review", args=[submission.pk])
    few = statements(client, url)
    for frame in range(1, 8):
        grow(frame)
    assert statements(client, url) == few
