"""The workbench on the real page, with a real clip, by keyboard: what is done is what is stored."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from reviews.replies.models import Note, RepCall, Reply, ReplyVersion
from tests.browser.conftest import shot
from tests.browser.player import factories
from tests.browser.player.pages import empty, half_way, source
from tests.conftest import Cast

Opened = Callable[..., Page]


@pytest.fixture
def at(cast: Cast, open_page: Opened) -> Opened:
    """at(build) -> the workbench with its clip on the screen."""

    def opened(build: Callable[[Cast], str], **options: object) -> Page:
        page = open_page(cast.coach, theme="dark", **options)
        page.goto(build(cast))
        expect(page.locator("player-controls .at")).to_contain_text(" of ")
        return page

    return opened


def saved(page: Page) -> None:
    """Wait until the page says that everything arrived."""
    expect(page.locator("save-state")).to_have_text(re.compile(r"^Saved \d\d:\d\d$"))


def on_frame(page: Page, number: int) -> None:
    """Wait until the page says that this frame is shown."""
    expect(page.locator("player-controls .at b")).to_have_text(f"frame {number}")


def press(page: Page, *keys: str) -> None:
    for key in keys:
        page.keyboard.press(key)


def test_a_note_by_keyboard_is_stored_with_its_moment_fault_and_cue(at: Opened) -> None:
    page = at(empty)
    press(page, "Shift+ArrowRight", "Shift+ArrowRight", "ArrowRight", "ArrowLeft", "ArrowRight")
    on_frame(page, 21)
    press(page, "2", "n")
    page.keyboard.type("hips r")
    expect(page.locator("[role=option]").first).to_contain_text("Hips rise first")
    press(page, "Enter")
    page.keyboard.type("push the")
    press(page, "Enter", "Escape", "w")
    page.keyboard.type("The bar is ahead of the foot, so the back takes over.")
    press(page, "Escape", "p")
    saved(page)
    note = Note.objects.get()
    assert (note.first_frame, note.last_frame, note.rep, note.rank) == (21, 21, 2, 1)
    assert (note.fault_name, note.phase) == ("Hips rise first", "ascent")
    assert note.cue_text.startswith("Push the")
    assert note.text == "The bar is ahead of the foot, so the back takes over."
    for place in ("film-axis", "rep-board", "reply-panel .points"):
        expect(page.locator(place).get_by_text("1", exact=True).first).to_be_visible()
    shot(page, "workbench-note")


def test_a_range_a_removal_and_putting_it_back(at: Opened) -> None:
    page = at(empty)
    press(page, "Shift+ArrowRight", "n", "Escape", "Shift+ArrowRight")
    on_frame(page, 20)
    press(page, "t")
    saved(page)
    assert Note.objects.values_list("first_frame", "last_frame").get() == (10, 20)
    press(page, "Delete")
    expect(page.get_by_text("Note removed.")).to_be_visible()
    expect(page.locator("reply-panel .focus")).to_have_count(0)
    saved(page)
    assert not Note.objects.exists()
    press(page, "u")
    saved(page)
    assert Note.objects.values_list("first_frame", "last_frame").get() == (10, 20)


def test_a_rep_is_marked_called_and_says_what_broke_it(at: Opened) -> None:
    page = at(empty)
    press(page, "3", "Shift+ArrowRight")
    on_frame(page, 10)
    press(page, "b", "Shift+ArrowRight", "Shift+ArrowRight")
    on_frame(page, 30)
    press(page, "e", "n")
    page.keyboard.type("hips r")
    expect(page.locator("[role=option]").first).to_be_visible()
    press(page, "Enter", "Escape", "x")
    page.get_by_role("checkbox", name="Hips rise first").check()
    saved(page)
    call = RepCall.objects.get()
    assert (call.rep, call.call, call.first_frame, call.last_frame) == (3, "not-standard", 10, 30)
    assert [fault.name for fault in call.faults.all()] == ["Hips rise first"]
    expect(page.locator("film-axis").get_by_role("button", name="rep 3")).to_be_visible()
    press(page, "Escape", "1", "s", "2", "c")
    saved(page)
    assert dict(RepCall.objects.values_list("rep", "call")) == {
        1: "standard",
        2: "cannot-tell",
        3: "not-standard",
    }
    press(page, "3", "s")
    saved(page)
    assert not RepCall.objects.get(rep=3).faults.exists(), "a rep to standard names no faults"


def test_a_rep_is_played_again_and_again_and_looked_at_closer(at: Opened) -> None:
    page = at(half_way)  # rep 1 is marked from frame 30 to 60
    press(page, "1", "r")
    expect(page.get_by_role("button", name="Loop 30 to 60")).to_have_attribute(
        "aria-pressed", "true"
    )
    seen = page.evaluate("""async () => {
      const player = document.querySelector("exact-player");
      const frames = [];
      player.addEventListener("frame", (event) => frames.push(event.detail.frame));
      player.rate = 2;
      await new Promise((resolve) => setTimeout(resolve, 4000));
      player.pause();
      return frames;
    }""")
    back = [a for a, b in itertools.pairwise(seen) if b < a]
    assert len(back) >= 2, "it came round at least twice"
    assert min(seen) >= 30
    assert max(seen) <= 60
    press(page, "r", "PageUp", "z", "z", "z", "Control+ArrowRight")
    expect(page.get_by_role("button", name="Show the whole clip")).to_have_text("3 ×")
    shot(page, "workbench-closer")
    assert page.evaluate(
        "getComputedStyle(document.querySelector('exact-player video')).transform"
    ).startswith("matrix(3,")
    press(page, "0")
    expect(page.get_by_role("button", name="The whole clip is seen")).to_be_disabled()


def test_every_deed_can_be_undone_and_done_again(at: Opened) -> None:
    page = at(empty)
    press(page, "Shift+ArrowRight", "n", "Escape", "w")
    page.keyboard.type("Bar ahead of the foot.")
    press(page, "Escape", "p", "1", "s")
    saved(page)
    press(page, "Delete", "Control+z", "Control+z", "Control+z", "Control+z")
    saved(page)
    assert Note.objects.values_list("text", "rank").get() == ("", None)
    assert RepCall.objects.get().call == ""
    press(page, "Control+Shift+Z", "Control+Shift+Z")
    page.get_by_role("button", name="Do again").click()
    saved(page)
    assert Note.objects.values_list("text", "rank").get() == ("Bar ahead of the foot.", 1)
    assert RepCall.objects.get().call == "standard"


def test_a_dead_network_loses_nothing_even_over_a_reload(at: Opened) -> None:
    page = at(empty)
    page.route("**/api/v1/notes/**", lambda route: route.abort())
    press(page, "Shift+ArrowRight", "n", "Escape", "w")
    page.keyboard.type("Typed on the train.")
    expect(page.locator("save-state")).to_have_text("Kept here, the server does not answer for now")
    shot(page, "workbench-kept")
    assert not Note.objects.exists()
    assert page.evaluate("() => localStorage.length") == 1
    page.reload()  # what is sent while a page is being left may get past the route
    item = page.locator("reply-panel").get_by_role("button", name="Typed on the train.")
    expect(item).to_be_visible()
    page.unroute("**/api/v1/notes/**")
    saved(page)
    assert Note.objects.get().text == "Typed on the train."
    assert page.evaluate("() => localStorage.length") == 0


def test_the_reply_is_ordered_finished_and_sent(at: Opened) -> None:
    page = at(half_way)
    send = page.get_by_role("button", name="Send reply")
    page.get_by_role("button", name="The bar is ahead").first.click()
    page.get_by_role("button", name="Later in the reply").click()
    page.get_by_label("Opening words").fill("Stop the heavy pulls until the back is quiet.")
    page.get_by_label("Film again by").fill("2026-12-04")
    saved(page)
    ranks = dict(Note.objects.exclude(rank=None).values_list("first_frame", "rank"))
    assert ranks == {12: 1, 40: 2}
    assert str(Reply.objects.get().film_again_by) == "2026-12-04"
    for number in range(1, 4):
        if send.is_enabled():
            break
        expect(page.locator("#send-why")).not_to_be_empty()
        press(page, "Escape", "Escape", str(number), "s")
        saved(page)
    send.click()
    expect(page.get_by_text("Sent to Mira Solheim.")).to_be_visible()
    assert ReplyVersion.objects.count() == 1


def test_every_key_is_listed(at: Opened) -> None:
    page = at(empty)
    press(page, "?")
    keys = page.get_by_role("dialog", name="Keys")
    expect(keys).to_be_visible()
    shot(page, "workbench-keys")
    for words in ("Play or pause", "Note on this frame", "To standard", "The other clip"):
        expect(keys.get_by_text(words, exact=True)).to_be_visible()
    assert keys.locator("dd").first.inner_text() == "Play or pause"
    assert keys.locator("kbd").first.inner_text() == "Space"
    press(page, "Escape")
    expect(keys).to_be_hidden()
    press(page, "n")
    page.keyboard.type("nnn?x")
    assert Note.objects.count() <= 1, "letters typed into a field are no commands"
    expect(keys).to_be_hidden()


@pytest.mark.parametrize("build", [empty, half_way])
def test_the_page_fits_the_window_and_stacks_on_a_phone(at: Opened, build) -> None:
    page = at(build)
    sizes = [(1280, 720), (1366, 768), (1440, 900), (1920, 1080)]
    for width, height in sizes:
        page.set_viewport_size({"width": width, "height": height})
        size = "() => [document.documentElement.scrollWidth, document.documentElement.scrollHeight]"
        assert page.evaluate(size) == [width, height]
        clip = page.locator("exact-player").bounding_box()
        send = page.get_by_role("button", name="Send reply").bounding_box()
        assert clip
        assert clip["height"] > 180
        assert send
        assert send["y"] + send["height"] < height
        shot(page, f"workbench-{build.__name__}-{width}")
    page.set_viewport_size({"width": 390, "height": 844})
    assert page.evaluate("() => document.documentElement.scrollWidth") == 390
    shot(page, f"workbench-{build.__name__}-390")


def test_three_reviews_in_a_row_without_the_mouse(cast: Cast, open_page: Opened) -> None:
    for athlete in (cast.athlete, cast.other_athlete, cast.athlete):
        factories.make_clip(factories.make_submission(athlete), source("constant"))
    page = open_page(cast.coach, theme="dark")
    page.goto(reverse("desk"))
    keys: list[str] = []

    def hit(*names: str) -> None:
        keys.extend(names)
        press(page, *names)

    hit("Enter")  # the desk opens the next
    for number in range(3):
        expect(page.locator("player-controls .at")).to_contain_text(" of ")
        for frame in (1, 2, 3):
            hit("Shift+ArrowRight")
            on_frame(page, 10 * frame)
            before = len(keys)
            note_by_letters(page, hit)
            assert len(keys) - before <= 12, "a note with fault and cue on the current frame"
            hit("Escape", "p")
        saved(page)
        expect(page.get_by_role("button", name="Send reply")).to_be_enabled()
        hit("Control+Enter")
        expect(page.get_by_role("button", name="Open the next")).to_be_visible()
        if number < 2:
            hit("Control+Enter")
            page.wait_for_url(re.compile("/review/"))
            expect(page.locator("reply-panel .focus")).to_have_count(0)
    assert Note.objects.exclude(fault=None).exclude(cue=None).count() == 9
    assert ReplyVersion.objects.count() == 3
    assert len(keys) <= 3 * (3 * 15 + 2)


def note_by_letters(page: Page, hit: Callable[..., None]) -> None:
    """A note here, its fault and its cue, each found by three letters."""
    hit("n", "h", "i", "p")
    expect(page.locator("[role=option]").first).to_contain_text("Hips rise first")
    hit("Enter", "p", "u", "s")
    expect(page.locator("[role=option]").first).to_contain_text("Push")
    hit("Enter")
