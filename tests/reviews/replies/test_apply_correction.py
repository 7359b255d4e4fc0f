"""From a note to the programme, through the page: looked at, applied, named, taken back."""

import re
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from programming.corrections.services.take_back_correction import take_back
from programming.logs.models import MaxKind, MaxRecord, MaxSource
from programming.plans.models.correction import Correction
from reviews.models import CorrectionReason, Fault, Note, ReplyVersion
from reviews.replies.services.call_rep import call_rep
from reviews.replies.services.publish_reply import publish_reply
from tests.conftest import Cast
from tests.programming.corrections import ground
from tests.reviews.replies.rows import PTS, a_clip, a_note, a_submission

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("_monday")]


@pytest.fixture
def _monday(time_machine: Any) -> None:
    time_machine.move_to("2026-11-30 09:00:00+00:00", tick=False)


@pytest.fixture
def note(cast: Cast) -> Note:
    clip = a_clip(a_submission(cast.athlete), movement=ground.movement())
    made = a_note(cast.coach, clip)
    Note.objects.filter(pk=made.pk).update(fault_name="Hips rise first", cue_text="Push the floor")
    return Note.objects.get(pk=made.pk)


@pytest.fixture
def coach(client: Client, cast: Cast) -> Client:
    client.force_login(cast.coach)
    return client


def address(note: Note) -> str:
    return reverse("correction", args=[note.clip.submission_id, note.pk])


def asked(kind: str, **more: str) -> dict[str, str]:
    return {"kind": kind, "movement": str(ground.movement().pk), "weeks": "4", **more}


def seal_of(body: str) -> str:
    found = re.search(r'name="seal" value="(\w+)"', body)
    assert found, body[-2000:]
    return found[1]


def send(coach: Client, note: Note, data: dict[str, str]) -> Any:
    shown = coach.get(address(note), data, headers={"hx-request": "true"}).content.decode()
    return coach.post(address(note), {**data, "seal": seal_of(shown)})


def test_a_cap_is_shown_in_loads_before_it_happens(cast: Cast, coach: Client, note: Note) -> None:
    made = ground.programme(cast.athlete)
    MaxRecord.objects.create(
        athlete=cast.athlete,
        movement=ground.movement(),
        kind=MaxKind.TECHNICAL,
        source=MaxSource.HAND,
        reason="Meet, three white lights",
        day=ground.MONDAY,
        kg=Decimal(160),
        low_kg=Decimal(160),
        high_kg=Decimal(160),
    )
    before = ground.written(made)
    body = coach.get(address(note), asked("cap", **{"cap-percent": "90"})).content.decode()
    text = re.sub(r"<[^>]+>|\s+", " ", body)
    text = re.sub(r"[ \u2009\u00a0\u202f]+", " ", text)
    # 90% of 160 is 144, and the usual plates load 142.5 as the nearest below it.
    assert "Low-bar squat 3 \u00d7 3 , 150 kg" in text
    assert "Low-bar squat 3 \u00d7 3 , 142.5 kg" in text
    # 80% of 160 is 128 and loads to 127.5: the cap changes nothing there yet.
    assert "already under the cap" in text
    assert ground.written(made) == before


def test_applied_it_remembers_the_note_the_frame_and_the_words(
    cast: Cast, coach: Client, note: Note
) -> None:
    made = ground.programme(cast.athlete)
    data = asked("dose", **{"dose-sets": "2", "check_back_on": "2026-12-11"})
    answer = send(coach, note, data)
    assert answer.status_code == 302
    correction = Correction.objects.get()
    assert str(correction.check_back_on) == "2026-12-11"
    assert correction.made_by == cast.coach
    note.fault_name, note.text = "Reworded", "later"
    note.save()
    reason = CorrectionReason.objects.get()
    assert (reason.correction, reason.note) == (correction, note)
    assert reason.seen["fault"] == "Hips rise first"
    assert reason.seen["first_frame"] == note.first_frame
    assert {line.sets for line in ground.squats(made)} == {2}
    page = coach.get(address(note)).content.decode()
    assert "Low-bar squat: 2 sets" in page
    assert "Take back" in page


def test_what_a_coach_writes_in_a_cell_is_a_dose_here_too(
    cast: Cast, coach: Client, note: Note
) -> None:
    made = ground.programme(cast.athlete)
    data = asked("add-drill", **{"add-drill-drill_name": "Box squat", "add-drill-dose": "3x5 @7"})
    send(coach, note, data)
    drill = made.sessions.get(week=1, position=1).prescriptions.get(movement__name="Box squat")
    assert (drill.sets, drill.reps, drill.target_kind, drill.target) == (3, 5, "rpe", Decimal(7))
    assert drill.position == 1


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"kind": "add-drill", "add-drill-drill_name": "Box squat"}, "Begin with sets x reps"),
        ({"kind": "cap", "cap-percent": "140"}, "Look at what is marked"),
        ({"kind": "rebuild", "rebuild-name": "Flat back", "rebuild-dose": "3x3"}, "no max yet"),
        ({"kind": "dose"}, "Say what is to be different"),
    ],
)
def test_half_a_wish_says_what_is_missing_and_changes_nothing(
    cast: Cast, coach: Client, note: Note, data: dict[str, str], words: str
) -> None:
    made = ground.programme(cast.athlete)
    before = ground.written(made)
    answer = coach.post(address(note), {**asked(""), **data})
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert ground.written(made) == before


def test_without_a_programme_it_says_so(cast: Cast, coach: Client, note: Note) -> None:
    body = coach.get(address(note), asked("hold")).content.decode()
    assert "no session is planned in that time" in body
    assert "disabled" in body


def test_a_stale_look_is_refused(cast: Cast, coach: Client, note: Note) -> None:
    made = ground.programme(cast.athlete)
    answer = coach.post(address(note), {**asked("hold"), "seal": "0" * 64})
    assert answer.status_code == 422
    assert "changed since you looked" in answer.content.decode()
    assert not any(line.held for line in ground.squats(made))


def test_take_back_and_end_are_one_button(cast: Cast, coach: Client, note: Note) -> None:
    made = ground.programme(cast.athlete)
    send(coach, note, asked("hold"))
    first = Correction.objects.get()
    answer = coach.post(reverse("correction-back", args=[first.pk]), follow=True)
    assert "Taken back" in answer.content.decode()
    assert not any(line.held for line in ground.squats(made))
    send(coach, note, asked("hold"))
    ground.train(ground.squats(made)[0])
    second = Correction.objects.exclude(pk=first.pk).get()
    answer = coach.post(reverse("correction-back", args=[second.pk]), follow=True)
    assert "Ended from today" in answer.content.decode()
    assert [line.held for line in ground.squats(made)] == [True, False, False, False]


def test_movements_of_another_athlete_are_not_offered(
    cast: Cast, coach: Client, note: Note
) -> None:
    other = ground.movement()
    other.pk, other.name, other.club = None, "Joris, rebuilt", cast.coach.club
    other.athlete = cast.other_athlete
    other.save()
    ground.programme(cast.athlete)
    assert "Joris, rebuilt" not in coach.get(address(note)).content.decode()


def test_a_prescription_says_why_it_is_here(
    cast: Cast, coach: Client, note: Note, client: Client
) -> None:
    made = ground.programme(cast.athlete)
    send(coach, note, asked("dose", **{"dose-sets": "2"}))
    changed, plain = ground.squats(made)[0], made.sessions.get(week=1, position=2)
    client.force_login(cast.athlete)
    page = client.get(reverse("why", args=[changed.pk])).content.decode()
    for words in ("Hips rise first", "Push the floor", "Low-bar squat: 2 sets", "Read the reply"):
        assert words in page
    # The middle of the frame's interval, by the table and not by a rate.
    middle = (PTS[note.first_frame] + PTS[note.first_frame + 1]) / 2000
    assert f"#t={middle:.4f}" in page
    bench = client.get(reverse("why", args=[plain.prescriptions.get().pk])).content.decode()
    assert "No correction put it here" in bench
    client.force_login(cast.other_athlete)
    assert client.get(reverse("why", args=[changed.pk])).status_code == 404


def test_the_reply_freezes_what_changed_and_says_when_it_no_longer_holds(
    cast: Cast, coach: Client, note: Note, client: Client
) -> None:
    ground.programme(cast.athlete)
    Note.objects.filter(pk=note.pk).update(rank=1)
    send(coach, note, asked("dose", **{"dose-sets": "2", "check_back_on": "2026-12-11"}))
    version = publish_reply(coach=cast.coach, submission_id=note.clip.submission_id)
    change = version.content["changes"][0]
    assert change["said"] == "Low-bar squat: 2 sets"
    assert change["sessions"][0] == {
        "day": "2026-11-30",
        "before": "Low-bar squat 3 \u00d7 3, 150\u2009kg",
        "after": "Low-bar squat 2 \u00d7 3, 150\u2009kg",
    }
    client.force_login(cast.athlete)
    address = reverse("submission", args=[note.clip.submission_id])
    page = client.get(address).content.decode()
    assert "Changed in your programme" in page
    assert "no longer holds" not in page
    take_back(correction=Correction.objects.get(), by=cast.coach, today=ground.TODAY)
    assert "no longer holds" in client.get(address).content.decode()
    assert version.content["changes"] == ReplyVersion.objects.get().content["changes"]


def test_a_check_back_stands_with_the_athlete_and_overdue_on_the_desk(
    cast: Cast, coach: Client, note: Note, client: Client, time_machine: Any
) -> None:
    ground.programme(cast.athlete)
    question = note.clip.submission
    send(coach, note, asked("dose", **{"dose-sets": "2", "check_back_on": "2026-12-11"}))
    desk = coach.get(reverse("asked-back")).content.decode()
    assert "Not filmed again yet" not in desk
    time_machine.move_to("2026-12-11 09:00:00+00:00", tick=False)
    client.force_login(cast.second_coach)
    desk = client.get(reverse("asked-back")).content.decode()
    assert "Not filmed again yet" in desk
    assert "by Fri 11 Dec" in desk
    time_machine.move_to("2026-12-12 09:00:00+00:00", tick=False)
    client.force_login(cast.athlete)
    home = client.get(reverse("athlete-home")).content.decode()
    assert "was due Fri 11 Dec" in home
    back = a_submission(cast.athlete, check_back_of=question)
    back.sent_at = timezone.now()
    back.save()
    assert "To be checked" not in client.get(reverse("athlete-home")).content.decode()
    client.force_login(cast.stranger)
    assert "Mira" not in client.get(reverse("asked-back")).content.decode()


def test_a_fault_of_heavy_sets_is_answered_by_load_first(
    cast: Cast, coach: Client, note: Note
) -> None:
    # Common practice, no source.
    fault = Fault.objects.get(club=cast.coach.club, name="Hips rise first")
    Note.objects.filter(pk=note.pk).update(fault=fault)
    question = note.clip.submission
    question.goal = "total"
    question.save()
    light = a_clip(question, movement=ground.movement(), load_kg=Decimal(120))
    for clip, verdict in [
        (light, {"call": "standard"}),
        (note.clip, {"call": "not-standard", "faults": [fault]}),
    ]:
        call_rep(coach=cast.coach, clip_id=clip.pk, rep=1, **verdict)
    page = coach.get(address(note)).content.decode()
    assert "heavy sets only, from 150 kg on" in page
    assert "For a competition total the more efficient variant is preferred." in page
    call_rep(
        coach=cast.coach,
        clip_id=light.pk,
        rep=2,
        call="not-standard",
        faults=[fault],
    )
    assert "heavy sets only" not in coach.get(address(note)).content.decode()


def test_the_api_takes_the_caps_that_the_page_takes(cast: Cast, coach: Client, note: Note) -> None:
    ground.programme(cast.athlete)
    url = reverse("api-correction-preview", args=[note.pk])

    def page(percent: str) -> bool:
        body = coach.get(address(note), asked("cap", **{"cap-percent": percent})).content.decode()
        return 'name="seal"' in body

    def api(percent: str) -> bool:
        body = {"kind": "cap", "movement": ground.movement().pk, "percent": percent}
        return coach.post(url, body, "application/json").status_code == 200

    for percent, taken in [("92.5", True), ("100", True), ("0", False), ("92.555", False)]:
        assert (page(percent), api(percent)) == (taken, taken), percent
