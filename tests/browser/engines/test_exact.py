"""At rest the picture on the screen is the frame that the label names, in every engine, with
pictures decoded by WebCodecs and by the video element alone; and a loop keeps to both its ends.

The check stands outside the player: each picture carries its number in its own pixels.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from coachdesk.benchmarks.file_server import served
from tests.browser.engines import exact_clips
from tests.browser.engines.window import Window
from tests.browser.player import clips

ROOT = Path(__file__).resolve().parents[3]
PLAYER = ROOT / "tests" / "browser" / "player"
LIMIT_MS = 20_000

# In ticks of 1/90,000 s these two are frames whose start, made seconds and back in floating point,
# falls below its own tick, at 30, 60, 120 and 240 frames per second alike.
FIRST, LAST = 21, 73


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("clips")
    for name in exact_clips.NAMES:
        exact_clips.make(folder, name)
    with served({"/static/": ROOT / "static", "/tests/": PLAYER, "/clips/": folder}) as url:
        yield url


class Bench:
    """The player's page, with one clip open."""

    def __init__(self, window: Window, address: str, clip: str, decoder: str) -> None:
        self.window = window
        window.go(f"{address}/tests/exact.html")
        window.wait_until("window.bench !== undefined")
        if decoder == "video":  # as where a site is not served over HTTPS
            window.evaluate("() => { delete window.VideoDecoder; }")
            count = self.ask(f"bench.open('{clip}')")
        else:
            count = self.ask(f"bench.openCached('{clip}')")
        assert count == exact_clips.COUNT

    def ask(self, expression: str) -> Any:
        """What a call answers; one that hangs fails after a while instead of for ever."""
        late = "setTimeout(() => reject(new Error('not done in time')), " + f"{LIMIT_MS})"
        limit = f"new Promise((_, reject) => {late})"
        return self.window.evaluate(f"() => Promise.race([{expression}, {limit}])")

    def on_screen(self, folder: Path) -> int:
        """The number in a screenshot of the window."""
        left, top, width = self.ask("""[bench.player.picture.getBoundingClientRect()]
            .map(({ left, top, width }) => [left, top, width])[0]""")
        self.window.screenshot(folder / "screen.png")
        picture = Image.open(folder / "screen.png").convert("L")
        square = clips.SQUARE * width / clips.WIDTH
        return sum(
            1 << bit
            for bit in range(clips.BITS)
            if picture.getpixel((int(left + square * (bit + 0.5)), int(top + square / 2))) > 127
        )


@pytest.fixture(params=["decoded", "video"])
def decoder(request: pytest.FixtureRequest) -> str:
    return request.param


@pytest.fixture(params=exact_clips.NAMES)
def bench(request: pytest.FixtureRequest, window: Window, address: str, decoder: str) -> Bench:
    return Bench(window, address, request.param, decoder)


def wrong(rows: list[list[int]]) -> list[list[int]]:
    """Rows in which wanted, named and seen are not one and the same frame."""
    return [row for row in rows if len(set(row)) != 1]


def test_at_rest_the_picture_is_the_one_that_is_named(
    bench: Bench, decoder: str, tmp_path: Path
) -> None:
    chance = random.Random(11)
    jumps = [chance.randrange(exact_clips.COUNT) for _ in range(5)]
    for frames in (jumps, [0, FIRST, LAST, 119, 40]):
        assert wrong(bench.ask(f"bench.visit({frames})")) == []
    for by in (1, 1, -1, -1):
        assert wrong(bench.ask(f"bench.walk({by}, 6)")) == []
    frame = bench.ask("bench.player.goTo(77)")
    assert (frame, bench.on_screen(tmp_path)) == (77, 77)
    shown = bench.ask("bench.shownBy(1, 5)")
    assert ("CANVAS" in shown) is (decoder == "decoded"), shown
    assert bench.on_screen(tmp_path) == 82


def test_after_a_pause_the_picture_is_the_one_that_is_named(bench: Bench, tmp_path: Path) -> None:
    bench.ask("Promise.resolve(bench.player.rate = 0.25)")  # slow enough to be stopped in time
    for begin in (0, 10, 31, 52):
        bench.ask(f"bench.player.goTo({begin})")
        bench.ask("bench.player.play()")
        bench.window.wait_until(f"bench.player.currentFrame > {begin + 7}")
        bench.ask("bench.player.pause()")
        bench.ask("new Promise((done) => setTimeout(done, 400))")
        named, seen = bench.ask("Promise.resolve([bench.player.currentFrame, bench.seen()])")
        assert (named, bench.on_screen(tmp_path)) == (seen, seen)
        assert wrong(bench.ask("bench.walk(-1, 3)")) == []


def test_a_loop_comes_round_from_its_end_to_its_beginning(bench: Bench, decoder: str) -> None:
    rows = bench.ask(f"bench.round({FIRST}, {LAST}, 0.5, 2)")
    seen = [frame for _, frame in rows]
    assert (min(seen), [frame for frame in seen if frame > LAST]) == (FIRST, [])
    ends = [before for before, after in pairwise(seen) if after < before]
    assert len(ends) == 2, seen
    if decoder == "decoded":
        assert wrong(rows) == []
    assert bench.ask("bench.player.paused")
