"""One answer per question: published by who holds it, frozen, and never changed after."""

import threading
from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import connection, transaction
from django.utils import timezone

from coachdesk.common.errors import Conflict, Invalid, NotFound
from reviews.desk.claiming import ClaimedByOther, NotClaimed, claim, live_claim
from reviews.desk.models import Claim
from reviews.intake.models import State
from reviews.library.models import Fault
from reviews.replies.models import Frozen, Note, Reply, ReplyVersion
from reviews.replies.services.call_rep import call_rep
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.save_reply import save_reply
from tests.reviews.replies.rows import SECONDS_OF_FRAME_4, a_clip, a_note, a_submission, an_answer

pytestmark = pytest.mark.django_db


@pytest.fixture
def submission(cast):
    return a_submission(cast.athlete)


@pytest.fixture
def clip(submission):
    return a_clip(submission)


@pytest.fixture
def fault(club):
    return Fault.objects.create(club=club, family="squat", phase="ascent", name="Hips lead the bar")


def test_publishing_answers_and_gives_the_claim_back(cast, submission) -> None:
    version = an_answer(cast.coach, submission)
    submission.refresh_from_db()
    assert version.number == 1
    assert submission.state == State.ANSWERED
    assert submission.answered_at is not None
    assert live_claim(submission) is None


def test_publishing_needs_the_live_claim(cast, submission, clip) -> None:
    a_note(cast.coach, clip, text="hips", rank=1)
    with pytest.raises(ClaimedByOther):
        publish_reply(coach=cast.second_coach, submission_id=submission.pk)
    Claim.objects.update(until=timezone.now() - timedelta(seconds=1))
    with pytest.raises(NotClaimed):
        publish_reply(coach=cast.coach, submission_id=submission.pk)
    assert not ReplyVersion.objects.exists()


def test_a_foreign_submission_is_not_there(cast, submission) -> None:
    for outsider in (cast.stranger, cast.athlete, cast.outsider):
        with pytest.raises(NotFound):
            publish_reply(coach=outsider, submission_id=submission.pk)


def test_an_empty_reply_is_refused_and_leaves_the_claim(cast, submission) -> None:
    claim(submission=submission, coach=cast.coach)
    with pytest.raises(Conflict, match="Put a note into the reply"):
        publish_reply(coach=cast.coach, submission_id=submission.pk)
    assert live_claim(submission) is not None


def test_a_second_press_sends_nothing_more(cast, submission) -> None:
    first = an_answer(cast.coach, submission)
    assert publish_reply(coach=cast.coach, submission_id=submission.pk) == first
    assert ReplyVersion.objects.count() == 1


def test_a_follow_up_is_version_two_and_keeps_the_first(cast, submission) -> None:
    first = an_answer(cast.coach, submission, "First words.")
    answered = submission.__class__.objects.get(pk=submission.pk).answered_at
    second = an_answer(cast.second_coach, submission, "Better words.")
    submission.refresh_from_db()
    assert second.number == 2
    assert submission.answered_at == answered
    assert ReplyVersion.objects.get(pk=first.pk).content["opening"] == "First words."


def test_what_was_sent_holds_words_and_looked_up_seconds(cast, fault, submission, clip) -> None:
    note = a_note(cast.coach, clip, 4, 6, fault=fault, text=" Legs first. ", rep=3, phase="ascent")
    left = a_note(cast.coach, clip, 2, 2, text="grip")
    verdict = {"call": "not-standard", "faults": [fault], "first_frame": 4, "last_frame": 9}
    call_rep(coach=cast.coach, clip_id=clip.pk, rep=3, **verdict)
    by = timezone.localdate() + timedelta(days=9)
    save_reply(
        coach=cast.coach, submission_id=submission.pk, fields={"film_again_by": by}, ranks=[note.pk]
    )
    content = publish_reply(coach=cast.coach, submission_id=submission.pk).content
    (point,) = content["points"]
    assert point["number"] == 1
    assert (point["fault"], point["text"]) == ("Hips lead the bar", "Legs first.")
    assert (point["first_frame"], point["last_frame"]) == (4, 6)
    assert point["seconds"] == SECONDS_OF_FRAME_4
    assert [moment["note"] for moment in content["rest"]] == [str(left.pk)]
    (call,) = content["clips"][0]["calls"]
    assert (call["call"], call["faults"]) == ("not-standard", ["Hips lead the bar"])
    assert content["film_again"]["by"] == by.isoformat()


def test_nothing_that_changes_later_changes_what_was_sent(cast, fault, submission, clip) -> None:
    a_note(cast.coach, clip, fault=fault, rank=1)
    version = publish_reply(coach=cast.coach, submission_id=submission.pk)
    before = ReplyVersion.objects.get(pk=version.pk).content
    Fault.objects.filter(pk=fault.pk).update(name="Renamed")
    Note.objects.all().delete()
    clip.delete()
    Reply.objects.update(opening="Changed")
    assert ReplyVersion.objects.get(pk=version.pk).content == before


def bulk_update(version: ReplyVersion) -> None:
    version.content = {}
    ReplyVersion.objects.bulk_update([version], ["content"])


def overwrite(version: ReplyVersion) -> None:
    copy = ReplyVersion(
        pk=version.pk, reply=version.reply, number=1, content={}, sent_by=version.sent_by
    )
    copy.save()


def insert_over(version: ReplyVersion) -> None:
    copy = ReplyVersion(reply=version.reply, number=1, content={}, sent_by=version.sent_by)
    ReplyVersion.objects.bulk_create(
        [copy],
        update_conflicts=True,
        update_fields=["content"],
        unique_fields=["reply", "number"],
    )


@pytest.mark.parametrize(
    "attack",
    [
        lambda version: version.save(),
        lambda version: version.save(update_fields=["content"]),
        lambda version: version.delete(),
        lambda version: ReplyVersion.objects.update(content={}),
        lambda version: ReplyVersion.objects.filter(pk=version.pk).update(sent_by=None),
        lambda version: version.reply.versions.update(number=7),
        lambda version: version.reply.versions.all().delete(),
        lambda version: ReplyVersion._base_manager.all().update(content={}),
        lambda version: ReplyVersion.objects.update_or_create(
            pk=version.pk, defaults={"content": {}}
        ),
        bulk_update,
        overwrite,
        insert_over,
    ],
)
def test_every_way_around_the_guard_is_closed(cast, submission, attack) -> None:
    version = an_answer(cast.coach, submission)
    with pytest.raises(Frozen), transaction.atomic():
        attack(version)
    kept = ReplyVersion.objects.get(pk=version.pk)
    assert (kept.number, kept.content["opening"]) == (1, "Three strong reps.")


def test_erasing_the_athlete_takes_their_replies_along(cast, submission) -> None:
    an_answer(cast.coach, submission)
    cast.athlete.delete()
    assert not ReplyVersion.objects.exists()


def test_a_day_that_has_passed_is_refused(cast, submission) -> None:
    claim(submission=submission, coach=cast.coach)
    yesterday = timezone.localdate() - timedelta(days=2)
    with pytest.raises(Invalid, match="has passed"):
        save_reply(
            coach=cast.coach, submission_id=submission.pk, fields={"film_again_by": yesterday}
        )


def test_ranks_name_the_focus_points_and_leave_the_rest(cast, submission, clip) -> None:
    first, second, third = (a_note(cast.coach, clip, frame, frame) for frame in (1, 2, 3))
    save_reply(coach=cast.coach, submission_id=submission.pk, fields={}, ranks=[third.pk, first.pk])
    ranks = dict(Note.objects.values_list("pk", "rank"))
    assert ranks == {third.pk: 1, first.pk: 2, second.pk: None}


def test_a_note_of_another_review_cannot_be_ranked(cast, submission, clip) -> None:
    theirs = a_note(cast.coach, a_clip(a_submission(cast.other_athlete)), rank=5)
    claim(submission=submission, coach=cast.coach)
    for stray in (theirs.pk, uuid4()):
        with pytest.raises(Invalid, match="is gone"):
            save_reply(coach=cast.coach, submission_id=submission.pk, fields={}, ranks=[stray])
    theirs.refresh_from_db()
    assert theirs.rank == 5


@pytest.mark.django_db(transaction=True)
def test_two_coaches_who_publish_at_once_make_one_version(cast) -> None:
    submission = a_submission(cast.athlete)
    claim(submission=submission, coach=cast.coach)
    save_reply(coach=cast.coach, submission_id=submission.pk, fields={"opening": "Hello."})
    start, refused = threading.Barrier(4), []

    def press(coach) -> None:
        try:
            start.wait(timeout=10)
            publish_reply(coach=coach, submission_id=submission.pk)
        except (ClaimedByOther, NotClaimed, Conflict) as error:
            refused.append(error)
        finally:
            connection.close()

    presses = [cast.coach, cast.second_coach, cast.owner, cast.coach]
    threads = [threading.Thread(target=press, args=[coach]) for coach in presses]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=30)
    assert [version.sent_by for version in ReplyVersion.objects.all()] == [cast.coach]
    assert len(refused) == 2
