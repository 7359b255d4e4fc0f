"""Who sees which page, what it says, and that it costs the same however much there is."""

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from athletes.models import PainReport
from coachdesk.common.errors import Invalid, NotFound
from reviews.desk.claiming import claim, live_claim
from reviews.intake.models import ClipState, State
from reviews.replies.models import Message, ReplyVersion
from reviews.replies.services.send_message import send_message
from tests.reviews.replies.rows import a_clip, a_note, a_submission, an_answer, statements

pytestmark = pytest.mark.django_db


@pytest.fixture
def submission(cast):
    return a_submission(cast.athlete)


def page(person, name: str, *args, **query):
    client = Client()
    client.force_login(person)
    return client.get(reverse(name, args=args), query)


def text_of(person, submission, **query) -> str:
    return page(person, "submission", submission.pk, **query).content.decode()


@pytest.mark.parametrize(
    ("who", "status"),
    [
        ("athlete", 200),
        ("coach", 200),
        ("second_coach", 200),
        ("owner", 200),
        ("other_athlete", 404),
        ("stranger", 404),
        ("outsider", 404),
    ],
)
def test_who_reads_a_submission(cast, submission, who, status) -> None:
    assert page(getattr(cast, who), "submission", submission.pk).status_code == status
    assert page(getattr(cast, who), "submission-clips", submission.pk).status_code == status


@pytest.mark.parametrize(
    ("who", "status"),
    [("coach", 200), ("owner", 200), ("athlete", 403), ("stranger", 404), ("outsider", 403)],
)
def test_who_opens_the_workbench(cast, submission, who, status) -> None:
    a_clip(submission)
    assert page(getattr(cast, who), "workbench", submission.pk).status_code == status


def test_opening_claims_nothing(cast, submission) -> None:
    """A browser that fetches ahead must not lock out another coach."""
    a_clip(submission)
    page(cast.coach, "workbench", submission.pk)
    assert live_claim(submission) is None


def test_opening_what_is_answered_claims_nothing(cast, submission) -> None:
    an_answer(cast.coach, submission)
    page(cast.second_coach, "workbench", submission.pk)
    assert live_claim(submission) is None


@pytest.mark.parametrize("reported_where", ["before the answer", "with the answer", "taken back"])
def test_pain_always_carries_the_caution(cast, submission, reported_where) -> None:
    caution = "needs a clinician now"
    assert caution not in text_of(cast.athlete, submission)
    pain = PainReport.objects.create(athlete=cast.athlete, where="knee", score=3)
    submission.pain = pain
    submission.save()
    if reported_where != "before the answer":
        an_answer(cast.coach, submission)
    if reported_where == "taken back":
        pain.delete()
    assert caution in text_of(cast.athlete, submission)
    assert caution in text_of(cast.coach, submission)


def test_an_older_version_can_always_be_read(cast, submission) -> None:
    an_answer(cast.coach, submission, "First words.")
    an_answer(cast.coach, submission, "Better words.")
    assert "Better words." in text_of(cast.athlete, submission)
    older = text_of(cast.athlete, submission, version="1")
    assert "First words." in older
    assert "Read the newest" in older
    assert "Understood" not in older
    for number in ("3", "x", "²"):
        assert page(cast.athlete, "submission", submission.pk, version=number).status_code == 404


def test_a_draft_goes_on_being_written(cast) -> None:
    draft = a_submission(cast.athlete, state=State.DRAFT, sent_at=None)
    answer = page(cast.athlete, "submission", draft.pk)
    assert answer.url == reverse("submit-draft", args=[draft.pk])
    assert page(cast.coach, "submission", draft.pk).status_code == 404


def test_markup_in_what_people_write_is_shown_as_text(cast, submission) -> None:
    submission.question = "<script>alert(1)</script>"
    submission.save()
    a_note(cast.coach, a_clip(submission), text="</script><b>bold</b>", rank=1)
    an_answer(cast.coach, submission, "<img src=x>")
    send_message(author=cast.athlete, submission=submission, text="<i>hm</i>")
    shown = text_of(cast.athlete, submission)
    for raw in ("<script>alert", "<b>bold", "<img src=x>", "<i>hm"):
        assert raw not in shown


def test_understood_is_said_once_by_the_athlete_alone(cast, submission) -> None:
    version = an_answer(cast.coach, submission)
    url = reverse("submission-understood", args=[submission.pk])
    coach, athlete = Client(), Client()
    coach.force_login(cast.coach)
    athlete.force_login(cast.athlete)
    assert coach.post(url, {"version": 1}).status_code == 404
    athlete.post(url, {"version": "no number"})
    assert ReplyVersion.objects.get().understood_at is None
    athlete.post(url, {"version": version.number})
    first = ReplyVersion.objects.get().understood_at
    athlete.post(url, {"version": version.number})
    assert first is not None
    assert ReplyVersion.objects.get().understood_at == first


def test_loads_are_in_the_readers_unit(cast, submission) -> None:
    a_clip(submission, load_kg="102.5")
    an_answer(cast.coach, submission)
    cast.athlete.unit = "lb"
    cast.athlete.save()
    # 102.5 kg / 0.45359237 kg (the international pound, 1959) = 225.97 lb
    assert '226\u2009<span class="u">lb</span>' in text_of(cast.athlete, submission)
    assert '102.5\u2009<span class="u">kg</span>' in text_of(cast.coach, submission)


def test_an_update_that_came_meanwhile_stays_unread(cast, submission) -> None:
    an_answer(cast.coach, submission, "First words.")
    an_answer(cast.coach, submission, "Better words.")
    client = Client()
    client.force_login(cast.athlete)
    client.post(reverse("submission-understood", args=[submission.pk]), {"version": 1})
    read = {row.number: row.understood_at is not None for row in ReplyVersion.objects.all()}
    assert read == {1: True, 2: False}


def test_reading_marks_the_other_sides_words(cast, submission) -> None:
    send_message(author=cast.athlete, submission=submission, text="And now?")
    page(cast.athlete, "submission", submission.pk)
    assert Message.objects.get().read_at is None
    page(cast.coach, "submission", submission.pk)
    assert Message.objects.get().read_at is not None


@pytest.mark.parametrize("text", ["", "  \n ", "x" * 2001])
def test_a_message_has_words_but_not_too_many(cast, submission, text) -> None:
    with pytest.raises(Invalid):
        send_message(author=cast.athlete, submission=submission, text=text)


def test_a_draft_and_a_foreign_question_have_no_talk(cast, submission) -> None:
    draft = a_submission(cast.athlete, state=State.DRAFT, sent_at=None)
    with pytest.raises(NotFound):
        send_message(author=cast.athlete, submission=draft, text="x")
    with pytest.raises(NotFound):
        send_message(author=cast.other_athlete, submission=submission, text="x")


def test_today_tells_what_is_waiting_and_what_to_do(cast, submission) -> None:
    reason = "It holds sound but no picture. Film it again."
    a_clip(submission, state=ClipState.FAILED, reason=reason)
    claim(submission=submission, coach=cast.coach)
    shown = page(cast.athlete, "athlete-home").content.decode()
    assert "Tove is looking at it now." in shown
    assert reason in shown


def test_a_filming_that_was_answered_is_not_asked_for_again(cast, submission) -> None:
    an_answer(cast.coach, submission)
    version = ReplyVersion.objects.get()
    by = (timezone.localdate() + timedelta(days=2)).isoformat()
    content = {**version.content, "film_again": {"by": by, "note": ""}}
    ReplyVersion.objects.create(reply=version.reply, number=2, content=content, sent_by=cast.coach)
    assert "Film next" in page(cast.athlete, "athlete-home").content.decode()
    a_submission(cast.athlete, check_back_of=submission)
    assert "Film next" not in page(cast.athlete, "athlete-home").content.decode()


def test_a_coach_is_sent_to_the_desk(cast) -> None:
    for name in ("athlete-home", "replies"):
        assert page(cast.coach, name).url == reverse("desk")


def test_pages_take_the_same_statements_however_much_there_is(cast) -> None:
    client = Client()
    client.force_login(cast.athlete)

    def counts() -> list[int]:
        submission = a_submission(cast.athlete)
        a_note(cast.coach, a_clip(submission), text="x", rank=1)
        an_answer(cast.coach, submission)
        for word in range(3):
            a_clip(submission)
            send_message(author=cast.athlete, submission=submission, text=f"x {word}")
        pages = [reverse("athlete-home"), reverse("replies")]
        return [
            statements(client, url) for url in [*pages, reverse("submission", args=[submission.pk])]
        ]

    few = counts()
    for _ in range(4):
        many = counts()
    assert many == few
