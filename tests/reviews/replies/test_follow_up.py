"""A check-back: what became of each point, proposed, said by a coach, kept, and sent."""

from functools import partial
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import transaction
from django.db.models import RestrictedError

from athletes.models import User
from coachdesk.common.errors import Conflict, Invalid, NotFound
from programming.models import Movement
from programming.plans.models.correction import Correction, Kind
from reviews.desk.claiming import NotClaimed, claim
from reviews.intake.models import Submission
from reviews.library.merging import merge
from reviews.library.models import Cue, Fault
from reviews.replies.models import CorrectionReason, Outcome, ReplyVersion, Result
from reviews.replies.models.outcome import Unchangeable
from reviews.replies.readiness import MayPublish, may_publish
from reviews.replies.schemas.note import kept_note
from reviews.replies.selectors.follow_up import FollowUp, points_to_judge
from reviews.replies.selectors.programme_changes import newest_outcome
from reviews.replies.selectors.reviews import review_of
from reviews.replies.services.call_rep import call_rep
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.record_outcome import record_outcome
from tests.conftest import Cast, mails
from tests.reviews.replies.rows import a_clip, a_note, a_submission, an_answer

pytestmark = pytest.mark.django_db


@pytest.fixture
def fault(cast) -> Fault:
    return Fault.objects.get(club=cast.coach.club, name="Hips rise first")


def called(coach: User, submission: Submission, fault: Fault, *showing: bool, **facts: Any) -> None:
    """One clip, a rep for each of `showing`, called on the fault."""
    clip = a_clip(submission, **facts)
    claim(submission=submission, coach=coach)
    for rep, shows in enumerate(showing, start=1):
        verdict = {"call": "not-standard", "faults": [fault]} if shows else {"call": "standard"}
        call_rep(coach=coach, clip_id=clip.pk, rep=rep, **verdict)


@pytest.fixture
def earlier(cast: Cast, fault: Fault) -> ReplyVersion:
    """A point with fault and cue, which two of three reps showed, and a point in words."""
    submission = a_submission(cast.athlete)
    called(cast.coach, submission, fault, False, True, True)
    cue = Cue.objects.create(club=cast.coach.club, text="Shove the bar back.")
    clip = submission.clips.get()
    a_note(cast.coach, clip, fault=fault, cue=cue, rank=1)
    a_note(cast.coach, clip, text="Breathe before you unrack.", rank=2)
    return publish_reply(coach=cast.coach, submission_id=submission.pk)


@pytest.fixture
def back(cast: Cast, earlier: ReplyVersion) -> Submission:
    return a_submission(cast.athlete, check_back_of=earlier.reply.submission)


def follow_up(back: Submission, coach: User) -> FollowUp:
    found = review_of(Submission.objects.get(pk=back.pk), coach).follow_up
    assert found is not None
    return found


def the_note(earlier: ReplyVersion, at: int = 0) -> UUID:
    return UUID(earlier.content["points"][at]["note"])


def test_each_point_of_the_earlier_reply_is_proposed(cast, fault, back) -> None:
    called(cast.coach, back, fault, False, False, True)
    hips, words = follow_up(back, cast.coach).points
    assert (hips.title, hips.proposal.result, hips.outcome) == ("Hips rise first", "better", None)
    assert hips.proposal.why == "1 of 3 judged reps shows it; last time 2 of 3 judged reps."
    assert (words.title, words.proposal.result) == ("Breathe before you unrack.", "cannot-tell")


def test_a_fault_merged_since_the_reply_is_still_the_same(cast, fault, back) -> None:
    staying = Fault.objects.get(club=cast.coach.club, name="Short of depth")
    merge(fault=fault, into=staying, by=cast.coach)
    called(cast.coach, back, staying, False, False, True)
    hips, _ = follow_up(back, cast.coach).points
    assert (hips.title, hips.proposal.result) == ("Hips rise first", "better")
    assert hips.proposal.why == "1 of 3 judged reps shows it; last time 2 of 3 judged reps."


def test_what_is_no_check_back_has_nothing_to_follow(cast, back, earlier) -> None:
    assert review_of(earlier.reply.submission, cast.coach).follow_up is None
    unanswered = a_submission(cast.athlete, check_back_of=a_submission(cast.athlete))
    assert review_of(unanswered, cast.coach).follow_up is None
    claim(submission=unanswered, coach=cast.coach)
    with pytest.raises(Invalid, match="no check-back"):
        record_outcome(
            coach=cast.coach, check_back_id=unanswered.pk, note=uuid4(), result=Result.GONE
        )


def test_the_coach_s_word_is_kept_with_what_the_point_said(cast, fault, earlier, back) -> None:
    claim(submission=back, coach=cast.coach)
    note = the_note(earlier)
    said = record_outcome(coach=cast.coach, check_back_id=back.pk, note=note, result=Result.GONE)
    Fault.objects.filter(pk=fault.pk).update(name="Renamed")
    said.refresh_from_db()
    assert (said.fault, said.fault_name, said.cue_text) == (
        fault, "Hips rise first", "Shove the bar back."
    )  # fmt: skip
    assert (said.version, said.number, said.confirmed_by) == (earlier, 1, cast.coach)
    again = record_outcome(coach=cast.coach, check_back_id=back.pk, note=note, result=Result.GONE)
    assert again == said
    record_outcome(coach=cast.coach, check_back_id=back.pk, note=note, result=Result.SAME)
    assert Outcome.objects.count() == 2
    assert [row.result for row in Outcome.objects.newest()] == ["same"]
    assert follow_up(back, cast.coach).points[0].outcome.result == "same"


def test_an_outcome_is_never_rewritten(cast, earlier, back) -> None:
    claim(submission=back, coach=cast.coach)
    said = record_outcome(
        coach=cast.coach, check_back_id=back.pk, note=the_note(earlier), result=Result.WORSE
    )
    ways = [
        said.save,
        said.delete,
        Outcome.objects.all().delete,
        lambda: Outcome.objects.update(result="gone"),
        lambda: Outcome._base_manager.update(result="gone"),
        lambda: Outcome.objects.bulk_update([said], ["result"]),
        lambda: Outcome.objects.bulk_create([said], update_conflicts=True),
    ]
    for way in ways:
        with pytest.raises(Unchangeable), transaction.atomic():
            way()
    with pytest.raises(RestrictedError), transaction.atomic():
        said.fault.delete()
    cast.athlete.delete()  # erasing the person takes them along
    assert Outcome.objects.count() == 0


def test_only_who_answers_it_says_so(cast, earlier, back) -> None:
    note = the_note(earlier)
    with pytest.raises(NotClaimed):
        record_outcome(coach=cast.coach, check_back_id=back.pk, note=note, result=Result.GONE)
    for other in (cast.stranger, cast.athlete):
        with pytest.raises(NotFound):
            record_outcome(coach=other, check_back_id=back.pk, note=note, result=Result.GONE)
    claim(submission=back, coach=cast.coach)
    with pytest.raises(NotFound):
        record_outcome(coach=cast.coach, check_back_id=back.pk, note=uuid4(), result=Result.GONE)


def test_outcomes_are_frozen_with_the_reply(cast, earlier, back) -> None:
    claim(submission=back, coach=cast.coach)
    note = the_note(earlier)
    words = the_note(earlier, 1)
    for point, result in ((note, Result.GONE), (words, Result.CANNOT_TELL)):
        record_outcome(coach=cast.coach, check_back_id=back.pk, note=point, result=result)
    sent = an_answer(cast.coach, back)
    title = "Breathe before you unrack."
    assert sent.content["check_back"] == {
        "of": str(earlier.reply.submission_id),
        "version": 1,
        "outcomes": [
            {"note": str(note), "number": 1, "title": "Hips rise first", "result": "gone"},
            {"note": str(words), "number": 2, "title": title, "result": "cannot-tell"},
        ],
    }
    assert earlier.content["check_back"] is None


def test_a_check_back_is_sent_with_a_word_on_every_earlier_point(cast, earlier, back) -> None:
    claim(submission=back, coach=cast.coach)
    a_note(cast.coach, a_clip(back), text="Better.", rank=1)
    verdict = may_publish(review_of(back, cast.coach))
    assert not verdict.ok
    assert verdict.why == (
        "Say first what became of 2 earlier points. "
        "Where the clip does not show one, choose “Can't tell”."
    )
    with pytest.raises(Conflict, match="what became of 2 earlier points"):
        publish_reply(coach=cast.coach, submission_id=back.pk)
    say = partial(
        record_outcome, coach=cast.coach, check_back_id=back.pk, result=Result.CANNOT_TELL
    )
    say(note=the_note(earlier, 0))
    assert may_publish(review_of(back, cast.coach)).why == (
        "Say first what became of “Breathe before you unrack”. "
        "Where the clip does not show it, choose “Can't tell”."
    )
    say(note=the_note(earlier, 1))
    assert may_publish(review_of(back, cast.coach)) == MayPublish(ok=True)
    assert len(
        publish_reply(coach=cast.coach, submission_id=back.pk).content["check_back"]["outcomes"]
    )


def test_only_a_rep_that_can_show_the_fault_speaks_of_it(cast, fault, back) -> None:
    """From the front the library's entry cannot tell; a bench press never shows a squat's fault."""
    assert fault.sight["front"] == "no"
    other_lift = Movement.objects.filter(club=None, family="bench").first()
    for facts in ({"view": "front"}, {"movement": other_lift}):
        called(cast.coach, back, fault, False, False, **facts)
        proposal = follow_up(back, cast.coach).points[0].proposal
        assert proposal.result == "cannot-tell"
        assert proposal.why == "No judged rep is filmed so that it could show it."
    called(cast.coach, back, fault, False)
    proposal = follow_up(back, cast.coach).points[0].proposal
    assert proposal.result == "gone"
    assert proposal.why == "The one judged rep does not show it."


def test_a_view_nobody_named_is_taken_at_the_coach_s_word(cast, fault, back) -> None:
    called(cast.coach, back, fault, False, view="")
    assert follow_up(back, cast.coach).points[0].proposal.result == "gone"


def test_a_fault_that_no_rep_call_named_is_not_proposed_as_gone(cast, fault) -> None:
    question = a_submission(cast.athlete)
    called(cast.coach, question, fault, False, False)
    a_note(cast.coach, question.clips.get(), fault=fault, rank=1)
    publish_reply(coach=cast.coach, submission_id=question.pk)
    back = a_submission(cast.athlete, check_back_of=question)
    called(cast.coach, back, fault, False)
    assert follow_up(back, cast.coach).points[0].proposal.result == "cannot-tell"


def test_the_athlete_reads_it_in_a_sentence_on_the_page_and_in_the_mail(
    cast, earlier, back, client
) -> None:
    claim(submission=back, coach=cast.coach)
    for at, result in enumerate([Result.GONE, Result.CANNOT_TELL]):
        note = the_note(earlier, at)
        record_outcome(coach=cast.coach, check_back_id=back.pk, note=note, result=result)
    an_answer(cast.coach, back)
    client.force_login(cast.athlete)
    page = client.get(f"/submissions/{back.pk}/").content.decode()
    for text in (mails()[-1].body, page):
        assert "Hips rise first: it is gone." in text
        assert "Breathe before you unrack.: this clip cannot tell." not in text
        assert "Breathe before you unrack: this clip cannot tell." in text
    first = earlier.reply.submission_id
    assert f"/submissions/{first}/" in page
    assert f"/submissions/{back.pk}/" in client.get(f"/submissions/{first}/").content.decode()


def test_what_was_left_for_now_is_judged_too_once_it_changed_the_programme(
    cast: Cast, earlier: ReplyVersion, back: Submission, fault: Fault
) -> None:
    clip = earlier.reply.submission.clips.get()
    note = a_note(cast.coach, clip, fault=fault)
    version = publish_reply(coach=cast.coach, submission_id=earlier.reply.submission_id)
    assert str(note.pk) not in {sent["note"] for sent in points_to_judge(version)}
    made = Correction.objects.create(
        athlete=cast.athlete, kind=Kind.HOLD, said="Squat left out", made_by=cast.coach
    )
    reason = CorrectionReason.objects.create(
        correction=made, submission=earlier.reply.submission, note=note, seen=kept_note(note)
    )
    assert [sent["note"] for sent in points_to_judge(version)][-1] == str(note.pk)
    claim(submission=back, coach=cast.coach)
    record_outcome(coach=cast.coach, check_back_id=back.pk, note=note.pk, result=Result.BETTER)
    said = newest_outcome(reason)
    assert said is not None
    assert (said.result, said.number) == (Result.BETTER, None)
