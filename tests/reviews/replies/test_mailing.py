"""The row first, the mail after: at least once, never in the way."""

from datetime import timedelta
from smtplib import SMTPServerDisconnected

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend
from django.utils import timezone
from kombu.exceptions import OperationalError

from reviews.desk.claiming import claim
from reviews.replies import mailing, replying
from reviews.replies.messaging import send_message
from reviews.replies.models import Message, ReplyVersion
from reviews.replies.replying import publish, save_reply
from reviews.replies.tasks import mail_reply, sweep_mail
from tests.reviews.replies.rows import a_clip, a_note, a_submission, an_answer

pytestmark = pytest.mark.django_db


class Away(EmailBackend):
    """A mail server that is gone."""

    def send_messages(self, messages):
        raise SMTPServerDisconnected("gone")


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
    return publish(coach=cast.coach, submission_id=submission.pk)


def test_the_athlete_gets_a_link_to_the_reply(cast, version, settings) -> None:
    settings.PUBLIC_URL = "https://club.example/"
    mail_reply(version.pk)
    (sent,) = mail.outbox
    assert sent.to == [cast.athlete.email]
    assert "Tove Lindqvist answered" in sent.subject
    assert f"https://club.example/submissions/{version.reply.submission_id}/" in sent.body
    assert "Film again by" in sent.body
    assert ReplyVersion.objects.get().mailed_at is not None


def test_once_sent_it_is_not_sent_again(version) -> None:
    mail_reply(version.pk)
    mail_reply(version.pk)
    sweep_mail()
    assert len(mail.outbox) == 1


def test_the_sweep_finds_what_the_broker_lost(version) -> None:
    sweep_mail()
    assert len(mail.outbox) == 1


def test_a_mail_server_that_is_away_is_tried_again_later(version, settings) -> None:
    working = settings.EMAIL_BACKEND
    settings.EMAIL_BACKEND = f"{Away.__module__}.{Away.__qualname__}"
    mail_reply(version.pk)
    row = ReplyVersion.objects.get()
    assert (row.mailed_at, row.mail_tries) == (None, 1)
    assert row.mail_due_at > timezone.now()
    settings.EMAIL_BACKEND = working
    sweep_mail()
    assert mail.outbox == []
    ReplyVersion.objects.update(mail_due_at=timezone.now())
    sweep_mail()
    assert len(mail.outbox) == 1


def test_a_worker_that_died_while_sending_is_followed_by_another(version, monkeypatch) -> None:
    with monkeypatch.context() as patched:
        patched.setattr(mailing, "_reply_mail", lambda row: 1 / 0)
        with pytest.raises(ZeroDivisionError):
            mail_reply(version.pk)
    sweep_mail()
    assert mail.outbox == []  # the lease of the dead one still holds
    ReplyVersion.objects.update(mail_due_at=timezone.now())
    sweep_mail()
    assert len(mail.outbox) == 1


def test_it_gives_up_in_the_end(version, settings) -> None:
    ReplyVersion.objects.update(mail_tries=mailing.GIVE_UP)
    sweep_mail()
    assert mail.outbox == []


def test_a_broker_that_is_away_does_not_undo_the_reply(
    cast, monkeypatch, django_capture_on_commit_callbacks
) -> None:
    def gone(pk: int) -> None:
        raise OperationalError("no broker")

    monkeypatch.setattr(replying.mail_reply, "delay", gone)
    with django_capture_on_commit_callbacks(execute=True):
        an_answer(cast.coach, a_submission(cast.athlete))
    sweep_mail()
    assert len(mail.outbox) == 1


def test_an_update_says_so(cast, version) -> None:
    mail_reply(version.pk)
    submission = version.reply.submission
    claim(submission=submission, coach=cast.coach)
    save_reply(coach=cast.coach, submission_id=submission.pk, fields={"opening": "One more."})
    mail_reply(publish(coach=cast.coach, submission_id=submission.pk).pk)
    assert mail.outbox[1].subject.startswith("Updated: ")


def test_pain_carries_the_caution_into_the_mail(version) -> None:
    assert "clinician" not in mailing._reply_mail(version).body
    version.content["pain"] = True
    assert "needs a clinician now" in mailing._reply_mail(version).body


def test_a_question_goes_to_the_coach_and_an_answer_to_the_athlete(cast, version) -> None:
    submission = version.reply.submission
    for author in (cast.athlete, cast.coach):
        message = send_message(author=author, submission=submission, text="a line & <more>")
        mailing.send_message_mail(message.pk)
    assert [sent.to for sent in mail.outbox] == [[cast.coach.email], [cast.athlete.email]]
    assert "a line & <more>" in mail.outbox[0].body


def test_a_question_before_any_answer_goes_to_the_main_coach_or_to_an_owner(cast) -> None:
    submission = a_submission(cast.athlete)
    first = send_message(author=cast.athlete, submission=submission, text="Also the left knee.")
    mailing.send_message_mail(first.pk)
    assert mail.outbox[0].to == [cast.coach.email]
    cast.athlete.main_coach = None
    cast.athlete.save()
    second = send_message(author=cast.athlete, submission=submission, text="And the right.")
    mailing.send_message_mail(second.pk)
    assert [sent.to for sent in mail.outbox[1:]] == [[cast.owner.email]]
    assert Message.objects.filter(mailed_at=None).count() == 0
