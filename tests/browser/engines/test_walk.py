"""A short walk through the main pages in every engine: each is seen, does one thing that people do
there, and writes no error to the console."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse

from programming.logs.models import LoggedSet
from reviews.intake.models import State, Submission
from reviews.replies.models import ReplyVersion
from tests.browser.engines.window import Window
from tests.browser.reply.factories import FIRST_STOP, make_answered_submission, make_clip
from tests.browser.session.pages import TRAINING, with_cue
from tests.browser.submit.files import video
from tests.conftest import Cast
from tests.reviews.replies.rows import a_submission

pytestmark = pytest.mark.short_walk

PLAYER = "document.querySelector('exact-player')"


@pytest.fixture
def laptop(site: Window, cast: Cast) -> Window:
    site.sign_in(cast.coach)
    return site


@pytest.fixture
def phone(site: Window, cast: Cast) -> Window:
    site.resize(390, 844)
    site.sign_in(cast.athlete)
    return site


def at(window: Window, path: str) -> None:
    window.wait_until(f"location.pathname === '{path}' && document.readyState === 'complete'")


def fills_the_width(window: Window) -> None:
    """Nothing makes the page wider than the window."""
    assert window.evaluate("() => document.documentElement.scrollWidth <= innerWidth")


def test_from_the_desk_to_a_reply_that_is_sent(laptop: Window, cast: Cast) -> None:
    submission = a_submission(cast.athlete)
    make_clip(submission, shows_fault=True)
    laptop.open(reverse("desk"))
    laptop.wait_for("[data-queue]", submission.question)
    laptop.wait_until("!document.querySelector('[hx-trigger=load]')")  # else its answer is cut off
    fills_the_width(laptop)
    laptop.press("Enter")
    at(laptop, reverse("workbench", args=[submission.pk]))
    laptop.wait_until(f"{PLAYER}?.table")
    laptop.wait_for("film-axis")
    laptop.wait_for("rep-board")
    laptop.wait_for("player-controls .at", "frame 0")
    for _ in range(3):
        laptop.press("ArrowRight")
    laptop.wait_for("player-controls .at b", "frame 3")
    laptop.click("button", "Note here")
    laptop.click("note-editor textarea")
    laptop.write("Legs straighten, bar stays.")
    laptop.click("button", "Make it a focus point")
    laptop.click("[title^='Not to standard']")
    laptop.wait_until("!document.querySelector('send-reply button.primary')?.disabled")
    laptop.press("Escape")
    laptop.press("Control+Enter")
    laptop.wait_for("send-reply", "Sent to Mira Solheim.")
    [point] = ReplyVersion.objects.get(reply__submission=submission).content["points"]
    assert (point["first_frame"], point["text"]) == (3, "Legs straighten, bar stays.")


def test_a_clip_goes_up_and_the_question_is_sent(phone: Window, cast: Cast, tmp_path: Path) -> None:
    phone.open("/submit/")
    phone.wait_for("h1", "Submit a lift")
    fills_the_width(phone)
    phone.choose_files("[data-add]", [video(tmp_path)])
    phone.wait_for(".clip [data-sentence]", "Being made ready")
    phone.click("#question")
    phone.write("Do my knees come in?")
    phone.wait_for("[data-saved]", "Saved")
    phone.click("button", "Send question")
    phone.wait_until("location.pathname.startsWith('/submissions/')")
    phone.wait_for("main", "Do my knees come in?")
    sent = Submission.objects.get()
    assert (sent.state, sent.clips.count()) == (State.WAITING, 1)


def test_a_reply_is_read_and_understood(phone: Window, cast: Cast) -> None:
    submission = make_answered_submission(cast)
    phone.open(reverse("submission", args=[submission.pk]))
    phone.wait_until(f"{PLAYER}?.table && {PLAYER}.currentFrame === {FIRST_STOP}")
    phone.wait_for("[data-caption]", "1. Hips rise first")
    phone.wait_for("#point-1", "Hips rise first")
    fills_the_width(phone)
    phone.click("button", "Play from here")
    phone.wait_until(f"{PLAYER}.currentFrame > {FIRST_STOP + 10}")
    phone.click("button", "Understood")
    phone.wait_until("!document.querySelector('form[action$=\"understood/\"]')")
    assert ReplyVersion.objects.get().understood_at


def test_a_set_is_logged_under_the_cue_of_the_last_reply(phone: Window, cast: Cast) -> None:
    with_cue(cast)
    before = LoggedSet.objects.count()
    phone.open(TRAINING)
    phone.wait_for("session-part h2", "Low-bar squat")
    phone.wait_for("session-part .cueline", "Shove the bar back into the wall.")
    fills_the_width(phone)
    assert "true" not in words(phone, "session-part .cue")
    phone.click("set-form button[type=submit]", "Log set 3")
    phone.wait_for(".sets > li:nth-child(3)", "logged")
    assert LoggedSet.objects.count() == before + 1


def words(window: Window, css: str) -> Any:
    return window.evaluate(f"() => document.querySelector('{css}').textContent")
