"""The evening's budget: pace, cut, bar and counts, in a fixed number of statements."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from reviews.desk.bar import bar_of
from reviews.desk.claiming import claim
from reviews.desk.evening import evening_of
from reviews.desk.pace import pace_of
from reviews.intake.models import State
from reviews.templatetags.desk_words import bar_words, headline, said, span, waited
from tests.reviews.desk.build import answered


def test_until_there_is_data_the_stated_default_counts(cast, settings) -> None:
    settings.REVIEW_MINUTES_PER_CLIP = 5
    for minutes in (1, 2, 3, 4):
        answered(cast.athlete, cast.coach, minutes=minutes)
    pace = pace_of(cast.coach)
    assert (pace.per_clip, pace.replies) == (5, 0)
    assert "until there are five answers of yours" in said(pace)


def test_the_pace_is_the_coachs_own_median_per_clip(cast) -> None:
    for minutes, clips in ((4, 1), (6, 1), (16, 2), (9, 1), (200, 1)):  # 4 6 8 9 200
        answered(cast.athlete, cast.coach, minutes=minutes, clips=clips)
    for _ in range(9):
        answered(cast.athlete, cast.second_coach, minutes=60)
    pace = pace_of(cast.coach)
    assert pace.per_clip == pytest.approx(8)
    assert pace.replies == 5
    assert pace.minutes(3) == pytest.approx(24)
    assert said(pace) == (
        "Counted at 8 minutes a clip: your own median from claim to answer, "
        "over your last 5 answers."
    )


def test_the_cut_is_straight(cast, waiting, settings) -> None:
    """A long one that does not fit ends the evening: nothing behind it is pulled forward."""
    settings.REVIEW_MINUTES_PER_CLIP = 10
    waiting(days=3, clips=1)
    waiting(days=2, clips=3)
    waiting(days=1, clips=1)
    evening = evening_of(cast.coach, tonight=30)
    assert [slot.fits for slot in evening.slots] == [True, False, False]
    assert [line.first_outside for line in evening.lines] == [False, True, False]
    assert [line.is_next for line in evening.lines] == [True, False, False]
    assert evening.fit_minutes == 10
    assert evening.free_minutes == 50
    assert headline(evening) == "Your 30 minutes fit 1 of 3"


def test_what_is_in_other_hands_costs_no_time(cast, waiting, settings) -> None:
    settings.REVIEW_MINUTES_PER_CLIP = 10
    held, mine = waiting(days=2), waiting(days=1)
    claim(submission=held, coach=cast.second_coach)
    claim(submission=mine, coach=cast.coach)
    evening = evening_of(cast.coach, tonight=30)
    coaches = [line.claim and line.claim.coach for line in evening.lines]
    assert coaches == [cast.second_coach, cast.coach]
    assert [line.is_held for line in evening.lines] == [True, False]
    assert [line.is_mine for line in evening.lines] == [False, True]
    assert (evening.free, evening.free_minutes, evening.held) == (1, 10, 1)
    assert headline(evening) == "Your 30 minutes fit the one that waits"


@pytest.mark.parametrize(
    ("count", "tonight", "words"),
    [
        (0, 30, "Your desk is clear"),
        (2, 15, "The first takes longer than your 15 minutes"),
        (2, 90, "Your 90 minutes fit all 2 that wait"),
        (3, 45, "Your 45 minutes fit 2 of 3"),
    ],
)
def test_the_evening_in_one_line(cast, waiting, settings, count, tonight, words) -> None:
    settings.REVIEW_MINUTES_PER_CLIP = 20
    for _ in range(count):
        waiting()
    assert headline(evening_of(cast.coach, tonight=tonight)) == words


def test_the_bar_fills_its_length_and_shows_the_cut(cast, waiting, settings) -> None:
    settings.REVIEW_MINUTES_PER_CLIP = 10
    waiting(pain=3)
    for _ in range(3):
        waiting()
    bar = bar_of(evening_of(cast.coach, tonight=20))
    assert [part.kind for part in bar.segments] == ["first", "inside", "outside", "outside"]
    assert sum(part.width for part in bar.segments) == pytest.approx(100)
    assert bar.cut == pytest.approx(50)
    assert not bar.runs_on


def test_a_long_backlog_leaves_tonight_readable(cast, waiting, settings) -> None:
    settings.REVIEW_MINUTES_PER_CLIP = 10
    for _ in range(12):
        waiting()
    bar = bar_of(evening_of(cast.coach, tonight=20))
    assert bar.cut == pytest.approx(50)
    assert len(bar.segments) == 4
    assert bar.runs_on


def test_of_a_long_backlog_only_the_beginning_is_counted_and_it_says_so(
    client, cast, waiting, settings
) -> None:
    settings.REVIEW_MINUTES_PER_CLIP = 10
    client.force_login(cast.coach)
    for n in range(12):
        waiting(days=12 - n, clips=1 if n < 6 else 3)
    whole = evening_of(cast.coach, tonight=120)
    assert (whole.free_minutes, whole.is_about) == (240, False)
    page = client.get(reverse("desk")).content.decode()
    assert "all 12, 4 h" in page
    part = evening_of(cast.coach, tonight=20, shown=5)
    assert (part.free_minutes, part.is_about) == (120, True), "twelve like the first five"
    assert "about 120 minutes in all" in bar_words(part)


def test_the_week_begins_on_monday_in_the_coachs_zone(cast, waiting) -> None:
    oslo = ZoneInfo("Europe/Oslo")
    with time_machine.travel(datetime(2026, 11, 23, 8, tzinfo=oslo), tick=False):  # a Monday
        monday = datetime(2026, 11, 23, 0, 30, tzinfo=oslo)
        answered(cast.athlete, cast.coach, minutes=5, at=monday)  # Sunday 23:30 in UTC
        answered(cast.athlete, cast.coach, minutes=5, at=monday - timedelta(hours=1))
        waiting()
        waiting(state=State.WAITING_ON_ATHLETE)
        with timezone.override(oslo):
            week = evening_of(cast.coach, tonight=60).week
    assert (week.answered, week.waiting, week.on_athlete) == (1, 1, 1)


def test_the_statements_do_not_grow_with_the_queue(cast, waiting) -> None:
    def statements() -> int:
        with CaptureQueriesContext(connection) as seen:
            evening = evening_of(cast.coach, tonight=90)
            for line in evening.lines:
                _ = (line.main_clip and line.main_clip.movement, line.submission.athlete.name)
                _ = (line.submission.pain, line.submission.check_back_of)
                _ = line.claim and line.claim.coach.first_name
        return len(seen)

    earlier = answered(cast.athlete, cast.coach, minutes=7)
    claim(submission=waiting(pain=2), coach=cast.second_coach)
    waiting(check_back_of=earlier)
    few = statements()
    for n in range(60):
        submission = waiting(clips=2, pain=n % 3 or None, check_back_of=earlier)
        if n % 4 == 0:
            claim(submission=submission, coach=cast.second_coach)
    assert statements() == few == 10


def test_lengths_of_time_are_said_plainly() -> None:
    said_of = {1: "1 minute", 45: "45 minutes", 120: "120 minutes", 125: "2 h 05", 180: "3 h"}
    assert {minutes: span(minutes) for minutes in said_of} == said_of
    now = timezone.now()
    assert waited(now) == "just now"
    assert waited(now - timedelta(hours=5, minutes=1)) == "5 h"
    assert waited(now - timedelta(days=1, hours=3)) == "1 day"
    assert waited(now - timedelta(days=9)) == "9 days"
