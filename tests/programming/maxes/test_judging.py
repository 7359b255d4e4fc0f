"""A published reply's rep calls become a verdict on the filmed set, and enter the maxes."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest

from athletes.models import User
from programming.logs.selectors.current_maxes import current_max
from programming.models import LoggedSession, LoggedSet, SetVerdict
from reviews.desk.claiming import claim
from reviews.intake.models import Clip
from reviews.replies.models import ReplyVersion
from reviews.replies.services.call_rep import call_rep
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.save_reply import save_reply
from tests.conftest import Cast
from tests.programming.maxes.lifting import judged
from tests.reviews.replies.rows import a_clip, a_submission

pytestmark = pytest.mark.django_db


def call(coach: User, clip: Clip, calls: str) -> None:
    claim(submission=clip.submission, coach=coach)
    words = {"s": "standard", "n": "not-standard", "c": "cannot-tell", "-": ""}
    for rep, letter in enumerate(calls, start=1):
        call_rep(coach=coach, clip_id=clip.pk, rep=rep, call=words[letter])


def send(coach: User, clip: Clip, opening: str = "Good work.") -> ReplyVersion:
    claim(submission=clip.submission, coach=coach)
    save_reply(coach=coach, submission_id=clip.submission_id, fields={"opening": opening})
    return publish_reply(coach=coach, submission_id=clip.submission_id)


def technical(clip: Clip) -> Decimal | None:
    verdict = SetVerdict.objects.get(source=clip.pk)
    found = current_max(
        athlete=verdict.athlete, movement=verdict.movement, kind="technical", day=verdict.day
    )
    return None if found is None else found.kg


def test_calls_count_once_the_reply_is_sent(cast: Cast) -> None:
    clip = a_clip(a_submission(cast.athlete), rpe=Decimal(9))
    call(cast.coach, clip, "ssc")
    assert not SetVerdict.objects.exists()
    send(cast.coach, clip)
    verdict = SetVerdict.objects.get()
    assert (verdict.athlete, verdict.movement, verdict.load_kg) == (
        cast.athlete,
        clip.movement,
        Decimal(150),
    )
    assert (verdict.to_standard, verdict.not_to_standard, verdict.cannot_tell) == (2, 0, 1)


def test_a_later_version_replaces_what_the_first_said(cast: Cast) -> None:
    clip = a_clip(a_submission(cast.athlete), rpe=Decimal(9))
    call(cast.coach, clip, "sss")
    send(cast.coach, clip)
    before = technical(clip)
    assert before is not None
    call(cast.coach, clip, "ssn")
    send(cast.coach, clip, "On a second look the last rep was high.")
    assert SetVerdict.objects.count() == 1
    assert technical(clip) is None


def test_calls_that_were_taken_back_say_nothing(cast: Cast) -> None:
    clip = a_clip(a_submission(cast.athlete))
    call(cast.coach, clip, "s")
    send(cast.coach, clip)
    call(cast.coach, clip, "-")
    send(cast.coach, clip, "I cannot judge this from behind after all.")
    assert not SetVerdict.objects.exists()


def test_a_clip_without_its_load_says_nothing(cast: Cast) -> None:
    clip = a_clip(a_submission(cast.athlete), load_kg=None)
    call(cast.coach, clip, "sss")
    send(cast.coach, clip)
    assert not SetVerdict.objects.exists()


@pytest.mark.parametrize(
    ("zone", "day"), [("Europe/Oslo", 30), ("Pacific/Auckland", 30), ("America/Denver", 29)]
)
def test_the_day_is_the_athletes_own_date(cast: Cast, zone: str, day: int) -> None:
    """00:30 in Oslo after its clocks went back (EU: 01:00 UTC on the last Sunday of October)."""
    User.objects.filter(pk=cast.athlete.pk).update(timezone=zone)
    cast.athlete.refresh_from_db()
    clip = a_clip(a_submission(cast.athlete))
    moment = datetime(2026, 10, 29, 23, 30, tzinfo=UTC)
    Clip.objects.filter(pk=clip.pk).update(created_at=moment)
    call(cast.coach, clip, "sss")
    send(cast.coach, clip)
    assert SetVerdict.objects.get().day.day == day


def log(clip: Clip, day: datetime, reps: int, missed: int = 0) -> LoggedSet:
    session, _ = LoggedSession.objects.get_or_create(
        athlete=clip.submission.athlete, day=day.date()
    )
    assert clip.movement is not None
    return LoggedSet.objects.create(
        session=session, movement=clip.movement, load_kg=150, reps=reps, missed_reps=missed
    )


def test_the_set_of_the_log_is_found_when_only_one_fits(cast: Cast) -> None:
    clip = a_clip(a_submission(cast.athlete))
    one = log(clip, clip.created_at, 2, missed=1)
    log(clip, clip.created_at, 5)
    call(cast.coach, clip, "ssn")
    send(cast.coach, clip)
    assert SetVerdict.objects.get().logged_set == one


def test_sets_that_are_alike_stay_unlinked(cast: Cast) -> None:
    clip = a_clip(a_submission(cast.athlete))
    log(clip, clip.created_at, 3)
    log(clip, clip.created_at, 3)
    call(cast.coach, clip, "sss")
    send(cast.coach, clip)
    assert SetVerdict.objects.get().logged_set is None


def test_nobody_elses_verdict_is_touched(cast: Cast) -> None:
    clip = a_clip(a_submission(cast.athlete))
    other = judged(cast.other_athlete, clip.created_at.date(), "150", "nnn")
    call(cast.coach, clip, "sss")
    send(cast.coach, clip)
    other.refresh_from_db()
    assert other.not_to_standard == 3
