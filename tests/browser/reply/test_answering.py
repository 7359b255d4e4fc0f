"""From the workbench to the phone: what the coach points at is where the athlete's clip stops."""

from datetime import timedelta

from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Page, expect

from reviews.intake.models import Clip, ClipState
from reviews.replies.models import ReplyVersion
from tests.browser.reply.factories import make_clip, make_reply_in_words
from tests.browser.reply.pages import page_of
from tests.browser.reply.test_reply import stands_at
from tests.browser.waiting import wait_until
from tests.reviews.replies.rows import a_clip, a_submission

FRAME = 57


def write_the_answer(bench: Page) -> None:
    wait_until(bench, "document.querySelector('exact-player').table !== null")
    bench.evaluate("frame => document.querySelector('exact-player').goTo(frame)", FRAME)
    wait_until(
        bench, "frame => document.querySelector('exact-player').currentFrame === frame", FRAME
    )
    bench.get_by_role("button", name="Note here").click()
    bench.get_by_label("What you see, and why it happens").fill("Legs straighten, bar stays.")
    bench.get_by_role("button", name="Make it a focus point").click()
    bench.get_by_label("Film again by").fill((timezone.localdate() + timedelta(days=9)).isoformat())
    bench.get_by_title("Not to standard").click()


def test_what_the_coach_points_at_is_where_the_clip_stops(cast, open_page) -> None:
    submission = a_submission(cast.athlete)
    make_clip(submission, shows_fault=True)
    bench = open_page(cast.coach, width=1440)
    bench.goto(reverse("workbench", args=[submission.pk]))
    write_the_answer(bench)
    send = bench.get_by_role("button", name="Send reply")
    expect(send).to_be_enabled(timeout=15_000)
    send.click()
    expect(bench.get_by_text("Sent to Mira Solheim.")).to_be_visible()
    (point,) = ReplyVersion.objects.get().content["points"]
    assert point["first_frame"] == FRAME
    phone = open_page(cast.athlete, width=390)
    phone.goto(page_of(submission))
    stands_at(phone, FRAME, "1. What to look at")
    # Below the clip while it stands there, and in the reply.
    expect(phone.locator("reply-player .caption-text")).to_have_text("Legs straighten, bar stays.")
    expect(phone.locator("#point-1")).to_contain_text("Legs straighten, bar stays.")
    expect(phone.get_by_text("Not to standard")).to_be_visible()
    expect(phone.get_by_role("heading", name="Film again by")).to_be_visible()


def test_a_coach_changes_what_was_sent(cast, open_page) -> None:
    submission = a_submission(cast.athlete)
    make_clip(submission)
    make_reply_in_words(cast, submission)
    bench = open_page(cast.second_coach, width=1440)
    bench.goto(page_of(submission))
    bench.get_by_role("button", name="Change the reply").click()
    bench.get_by_label("Opening words").fill("Stay at this load for a week more.")
    send = bench.get_by_role("button", name="Send reply")
    expect(bench.locator("save-state")).to_contain_text("Saved")
    expect(send).to_be_enabled()
    send.click()
    expect(bench.get_by_text("Sent to Mira Solheim.")).to_be_visible()
    phone = open_page(cast.athlete, width=390)
    phone.goto(page_of(submission))
    expect(phone.get_by_text("Updated by Bram Castel")).to_be_visible()
    expect(phone.get_by_text("Stay at this load for a week more.")).to_be_visible()
    phone.get_by_role("link", name="Version 1").click()
    expect(phone.get_by_text("Go up 2.5 kg next week")).to_be_visible()


def test_before_an_answer_the_page_follows_the_clips_by_itself(cast, open_page) -> None:
    submission = a_submission(cast.athlete)
    clip = a_clip(submission, state=ClipState.PROCESSING)
    page = open_page(cast.athlete, width=390)
    page.goto(page_of(submission))
    expect(page.get_by_text("Being made ready to play")).to_be_visible()
    Clip.objects.filter(pk=clip.pk).update(state=ClipState.FAILED, reason="It holds no picture.")
    expect(page.get_by_text("It holds no picture.")).to_be_visible()
    expect(page.get_by_role("link", name="Send it again")).to_be_visible()
