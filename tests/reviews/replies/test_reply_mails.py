"""What the mails about replies say, and that they go with what they are about."""

from datetime import timedelta

import pytest
from django.utils import timezone
from kombu.exceptions import OperationalError

from athletes.mail.models import Mail
from athletes.mail.tasks import deliver_mail
from reviews.desk.claiming import claim
from reviews.replies import reply_mails
from reviews.replies.models import ReplyVersion
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.save_reply import save_reply
from reviews.replies.services.send_message import send_message
from tests.conftest import mails
from tests.reviews.replies.rows import a_clip, a_note, a_submission, an_answer

pytestmark = pytest.mark.django_db


@pytest.fixture
def version(cast) -> ReplyVersion:
    submission = a_submission(cast.athlete)
    note = a_note(cast.coach, a_clip(submission), text="Legs first", rank=1)
    by = timezone.localdate() + timedelta(days=9)
    save_reply(
        coach=cast.coach,
        submission_id=submission.pk,
        fields={"film_again_by": by},
        ranks=[note.pk],
    )
    return publish_reply(coach=cast.coach, submission_id=submission.pk)


def test_the_athlete_gets_a_link_to_the_reply(cast, version, settings) -> None:
    settings.PUBLIC_URL = "https://club.example/"
    (sent,) = mails()
    assert sent.to == [cast.athlete.email]
    assert "Tove Lindqvist answered" in sent.subject
    assert f"https://club.example/submissions/{version.reply.submission_id}/" in sent.body
    assert "Film again by" in sent.body


def test_a_broker_that_is_away_does_not_undo_the_reply(
    cast, monkeypatch, django_capture_on_commit_callbacks
) -> None:
    def gone() -> None:
        raise OperationalError("no broker")

    monkeypatch.setattr(deliver_mail, "delay", gone)
    with django_capture_on_commit_callbacks(execute=True):
        an_answer(cast.coach, a_submission(cast.athlete))
    assert len(mails()) == 1


def test_an_update_says_so(cast, version) -> None:
    submission = version.reply.submission
    claim(submission=submission, coach=cast.coach)
    save_reply(coach=cast.coach, submission_id=submission.pk, fields={"opening": "One more."})
    publish_reply(coach=cast.coach, submission_id=submission.pk)
    assert mails()[1].subject.startswith("Updated: ")


def test_pain_carries_the_caution_into_the_mail(version) -> None:
    assert "clinician" not in reply_mails._reply_mail(version).body
    version.content["pain"] = True
    assert "needs a clinician now" in reply_mails._reply_mail(version).body


def test_a_question_goes_to_the_coach_and_an_answer_to_the_athlete(cast, version) -> None:
    submission = version.reply.submission
    for author in (cast.athlete, cast.coach):
        send_message(author=author, submission=submission, text="a line & <more>")
    _, asked, said = mails()
    assert [asked.to, said.to] == [[cast.coach.email], [cast.athlete.email]]
    assert "a line & <more>" in asked.body


def test_a_question_before_any_answer_goes_to_the_main_coach_or_to_an_owner(cast) -> None:
    submission = a_submission(cast.athlete)
    send_message(author=cast.athlete, submission=submission, text="Also the left knee.")
    assert [sent.to for sent in mails()] == [[cast.coach.email]]
    cast.athlete.main_coach = None
    cast.athlete.save()
    send_message(author=cast.athlete, submission=submission, text="And the right.")
    assert [sent.to for sent in mails()[1:]] == [[cast.owner.email]]
    assert not Mail.objects.exists()
