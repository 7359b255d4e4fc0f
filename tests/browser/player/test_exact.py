"""The frame on the screen is the frame the player says, every time, on constant and variable rates.

The check stands outside the player: each picture carries its number in its own pixels
(clips.py), read back from what the browser painted.
"""

from __future__ import annotations

import random
from itertools import pairwise

import pytest
from playwright.sync_api import Page

from tests.browser.waiting import wait_until

Row = list[int]


def wrong(rows: list[Row]) -> list[Row]:
    """Rows in which wanted, said and seen are not one and the same frame."""
    return [row for row in rows if len(set(row)) != 1]


@pytest.mark.parametrize("name", ["constant", "variable"])
def test_every_step_and_every_jump_shows_the_frame_it_names(page: Page, name: str) -> None:
    count = page.evaluate("name => bench.open(name)", name)
    assert count == 120
    forward = page.evaluate("count => bench.walk(1, count - 1)", count)
    assert (forward[0][0], forward[-1][0], wrong(forward)) == (1, 119, [])
    back = page.evaluate("count => bench.walk(-1, count - 1)", count)
    assert (back[-1][0], wrong(back)) == (0, [])
    chance = random.Random(3)
    jumps = [chance.randrange(count) for _ in range(100)]
    assert wrong(page.evaluate("frames => bench.visit(frames)", jumps)) == []


@pytest.mark.parametrize("name", ["constant", "variable"])
def test_decoded_pictures_are_the_frames_they_name(page: Page, name: str) -> None:
    count = page.evaluate("name => bench.openCached(name)", name)
    assert wrong(page.evaluate("count => bench.walk(1, count - 1)", count)) == []
    assert wrong(page.evaluate("count => bench.walk(-1, count - 1)", count)) == []
    chance = random.Random(5)
    jumps = [chance.randrange(count) for _ in range(60)]
    assert wrong(page.evaluate("frames => bench.visit(frames)", jumps)) == []
    page.evaluate("bench.player.goTo(40)")
    shown = page.evaluate("bench.shownBy(1, 20)") + page.evaluate("bench.shownBy(-1, 20)")
    assert shown.count("CANVAS") >= 35, shown


def test_playing_goes_on_from_the_decoded_picture(page: Page) -> None:
    page.evaluate("bench.openCached('constant')")
    page.evaluate("bench.player.goTo(30)")
    page.evaluate("bench.shownBy(1, 5)")
    assert page.evaluate("bench.player.picture.tagName") == "CANVAS"
    page.evaluate("bench.player.play()")
    assert page.evaluate("bench.player.picture.tagName") == "VIDEO"
    wait_until(page, "bench.player.currentFrame > 40")
    page.evaluate("bench.player.pause()")
    page.wait_for_timeout(400)
    said, seen = page.evaluate("[bench.player.currentFrame, bench.seen()]")
    assert said == seen
    assert wrong(page.evaluate("bench.walk(-1, 8)")) == []


@pytest.mark.parametrize("rate", [1, 2])
@pytest.mark.parametrize("name", ["constant", "variable"])
def test_a_stretch_is_kept_to_at_both_ends(page: Page, name: str, rate: int) -> None:
    """Ends inside a group of pictures, and outside the groups that are decoded at its beginning."""
    page.evaluate("name => bench.openCached(name)", name)
    rows = page.evaluate("rate => bench.round(22, 71, rate, 3)", rate)
    assert wrong(rows) == []
    frames = [said for said, _ in rows]
    assert (min(frames), max(frames) <= 71) == (22, True)
    ends = [a for a, b in pairwise(frames) if b < a]
    assert all(end > 71 - 8 for end in ends), ends  # none turns early, whatever the machine does
    assert page.evaluate("bench.player.paused")
    page.evaluate("() => { bench.player.stretch = null; return bench.player.play(); }")
    wait_until(page, "bench.player.currentFrame > 73")


@pytest.mark.parametrize("rate", [0.5, 1, 2])
@pytest.mark.parametrize("name", ["constant", "variable"])
def test_without_decoded_pictures_a_stretch_is_kept_to_as_well(
    page: Page, name: str, rate: float
) -> None:
    """What is seen, at every refresh: none beyond either end, and no early turn."""
    page.evaluate("name => bench.open(name)", name)
    rows = page.evaluate("rate => bench.round(22, 71, rate, 2)", rate)
    frames = [seen for _, seen in rows]
    assert (min(frames), max(frames) <= 71) == (22, True)
    ends = [a for a, b in pairwise(frames) if b < a]
    assert len(ends) == 2, frames
    assert all(end > 71 - 8 for end in ends), ends  # whatever the machine does
    assert len(set(frames)) > (71 - 22) / max(rate, 1) * 0.5, "it plays, and does not jump"
    assert page.evaluate("bench.player.paused")


def test_a_stretch_too_short_for_the_element_is_gone_through_by_seeking(page: Page) -> None:
    page.evaluate("bench.open('constant')")
    frames = [seen for _, seen in page.evaluate("bench.round(40, 42, 1, 3)")]
    assert (min(frames), max(frames)) == (40, 42)
    assert [a for a, b in pairwise(frames) if b < a] == [42, 42, 42]


def test_a_decoder_that_fails_in_a_stretch_leaves_the_rest_of_it_to_the_video(page: Page) -> None:
    page.evaluate("bench.openCached('constant')")
    page.evaluate("""() => {
        bench.player.stretch = { first: 5, last: 110 };
        bench.player.rate = 2;
        VideoDecoder.prototype.decode = () => { throw new DOMException("gone", "EncodingError"); };
        return bench.player.play();
    }""")
    wait_until(page, "bench.player.picture.tagName === 'VIDEO' && bench.player.currentFrame > 60")


def test_a_decoder_that_fails_leaves_the_steps_to_the_video(page: Page) -> None:
    page.evaluate("bench.openCached('constant')")
    page.evaluate("""() => {
        VideoDecoder.prototype.decode = () => { throw new DOMException("gone", "EncodingError"); };
    }""")
    rows = page.evaluate("bench.visit([3, 77, 40, 119, 0, 58, 59, 60])")
    assert wrong(rows) == []


def test_stepping_is_exact_over_ranges_before_the_whole_file_is_here(page: Page) -> None:
    page.route("**/clips/*.mp4", lambda route: route.abort() if whole(route) else route.continue_())
    page.evaluate("bench.open('constant')")
    rows = page.evaluate("bench.visit([3, 77, 40, 119, 0, 58])")
    assert wrong(rows) == []
    assert page.evaluate("bench.player.video.src").startswith("http")


def whole(route: object) -> bool:
    """True for the fetch of the whole file; the video element asks for a range."""
    return route.request.resource_type == "fetch"  # type: ignore[attr-defined]


def test_the_whole_file_takes_over_without_moving_the_picture(page: Page) -> None:
    page.evaluate("bench.open('constant')")
    page.evaluate("bench.player.goTo(37)")
    wait_until(page, "bench.player.video.src.startsWith('blob:')")
    assert page.evaluate("[bench.player.currentFrame, bench.seen()]") == [37, 37]
    assert wrong(page.evaluate("bench.visit([38, 37, 11])")) == []


def test_while_playing_the_number_follows_and_on_pause_it_is_exact(page: Page) -> None:
    page.evaluate("bench.open('variable')")
    for rate in (0.5, 1, 2):
        page.evaluate("rate => { bench.player.rate = rate }", rate)
        page.evaluate("bench.player.goTo(0)")
        page.evaluate("bench.player.play()")
        wait_until(page, "bench.player.currentFrame > 20")
        page.evaluate("bench.player.pause()")
        page.wait_for_timeout(400)
        said, seen = page.evaluate("[bench.player.currentFrame, bench.seen()]")
        assert said == seen
        assert wrong(page.evaluate("bench.walk(1, 3)")) == []


def test_many_wishes_at_once_end_at_the_last_one(page: Page) -> None:
    page.evaluate("bench.open('constant')")
    landed = page.evaluate("Promise.all([90, 5, 60, 33].map(frame => bench.player.goTo(frame)))")
    assert landed[-1] == 33
    assert page.evaluate("[bench.player.currentFrame, bench.seen()]") == [33, 33]
    held_down = "for (let n = 0; n < 10; n += 1) bench.player.step(1)"
    page.evaluate(f"() => {{ {held_down}; return bench.player.step(0); }}")
    assert page.evaluate("[bench.player.currentFrame, bench.seen()]") == [43, 43]


def test_what_was_wished_of_another_clip_is_not_done_to_this_one(page: Page) -> None:
    """There and back again while the other clip is still being opened."""
    page.evaluate("bench.open('constant')")
    landed = page.evaluate("""() => {
        const at = (name) => ({ src: `/clips/${name}.mp4`, frames: `/clips/${name}.json` });
        void bench.player.open(at("variable"));
        void bench.player.goTo(3);
        void bench.player.open(at("constant"));
        return bench.player.goTo(40);
    }""")
    assert landed == 40
    wait_until(page, "bench.player.video.src.startsWith('blob:')")
    assert page.evaluate("[bench.player.currentFrame, bench.seen()]") == [40, 40]


def test_the_ends_hold_and_one_picture_is_a_clip_too(page: Page) -> None:
    page.evaluate("bench.open('constant')")
    assert page.evaluate("bench.player.goTo(-5)") == 0
    assert page.evaluate("bench.player.goTo(5000)") == 119
    assert page.evaluate("bench.open('single')") == 1
    assert page.evaluate("bench.player.step(1)") == 0
    assert page.evaluate("bench.seen()") == 0


def test_a_clip_of_one_picture_plays_to_its_end_and_again(page: Page) -> None:
    """Its end comes at once, which a browser tells by rejecting the promise to play."""
    page.evaluate("""() => {
        window.rejections = [];
        addEventListener("unhandledrejection", ({ reason }) => rejections.push(String(reason)));
    }""")
    page.evaluate("bench.open('single')")
    for _ in range(3):
        page.evaluate("() => { void bench.player.toggle(); }")
        page.wait_for_timeout(300)
    wait_until(page, "bench.player.paused")
    assert page.evaluate("rejections") == []
    assert page.evaluate("[bench.player.currentFrame, bench.seen()]") == [0, 0]


def test_a_pause_right_after_play_is_no_error(page: Page) -> None:
    page.evaluate("bench.open('constant')")
    page.evaluate("""async () => {
        window.rejections = [];
        addEventListener("unhandledrejection", ({ reason }) => rejections.push(String(reason)));
        for (let time = 0; time < 5; time += 1) {
            void bench.player.play();
            await new Promise((resolve) => setTimeout(resolve, time));
            bench.player.pause();
        }
    }""")
    page.wait_for_timeout(300)
    assert page.evaluate("[rejections, bench.player.paused]") == [[], True]


def test_at_the_end_it_plays_from_the_beginning_again(page: Page) -> None:
    page.evaluate("bench.open('constant')")
    page.evaluate("bench.player.goTo(110)")
    page.evaluate("bench.player.play()")
    wait_until(page, "bench.player.paused && bench.player.currentFrame === 119")
    assert page.evaluate("bench.seen()") == 119
    page.evaluate("bench.player.play()")
    wait_until(page, "bench.player.currentFrame > 5 && bench.player.currentFrame < 110")


def test_decoded_pictures_stay_within_their_bytes(page: Page) -> None:
    """Counted where they are made and let go, outside the player; the pictures are 1280 by 720."""
    page.evaluate("""() => {
        window.bytes = { now: 0, most: 0 };
        const [make, let_go] = [window.createImageBitmap, ImageBitmap.prototype.close];
        window.createImageBitmap = async (...given) => {
            const bitmap = await make(...given);
            bytes.now += bitmap.width * bitmap.height * 4;
            bytes.most = Math.max(bytes.most, bytes.now);
            return bitmap;
        };
        ImageBitmap.prototype.close = function () {
            bytes.now -= this.width * this.height * 4;
            return let_go.call(this);
        };
    }""")
    count = page.evaluate("bench.openCached('fast')")
    assert wrong(page.evaluate("bench.walk(10, 11)")) == []
    assert wrong(page.evaluate("bench.walk(-1, 40)")) == []
    assert wrong(page.evaluate("bench.visit([5, 100, 101, 102, 60, 59, 58])")) == []
    page.evaluate("bench.player.goTo(50)")
    wait_until(page, "bytes.now > 100e6")
    page.wait_for_timeout(1000)  # what is still being decoded comes as well
    assert (count, page.evaluate("bytes.most") <= 128 * 2**20) == (120, True)
    page.evaluate("bench.open('single')")
    wait_until(page, "bytes.now < 10e6")


def test_a_file_that_shows_no_picture_says_so(page: Page) -> None:
    table = {"version": 1, "timescale": 90000, "pts": [0, 3000, 6000], "duration": 9000}
    page.route("**/clips/nothing.mp4", lambda route: route.fulfill(body=b"no film"))
    page.route("**/clips/nothing.json", lambda route: route.fulfill(json=table))
    page.evaluate("() => { bench.open('nothing') }")
    page.get_by_role("alert").wait_for()
    assert "shows no picture" in page.get_by_role("alert").inner_text()
