"""At rest, after a step and after a pause, the label names the picture on the screen.

The pictures are drawn by each engine's own video element, as on the athlete's page and wherever
nothing can be decoded by a script; each carries its number in its pixels (player/clips.py).
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from coachdesk.benchmarks.file_server import served
from tests.browser.engines.window import Window
from tests.browser.player import clips

ROOT = Path(__file__).resolve().parents[3]
RATES = (30, 60)


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("clips")
    for rate in RATES:
        times = [number * clips.TICKS // rate for number in range(4 * rate)]
        clips.write_pair(folder, f"at{rate}", times, b_frames=0)
    clips.write_pair(folder, "variable", clips.variable(), b_frames=0)
    here = ROOT / "tests" / "browser" / "player"
    with served({"/static/": ROOT / "static", "/tests/": here, "/clips/": folder}) as url:
        yield url


@pytest.fixture
def player(window: Window, address: str) -> Window:
    """A window with the player's page."""
    window.go(f"{address}/tests/exact.html")
    window.wait_until("window.bench !== undefined")
    return window


@pytest.mark.parametrize("name", ["at30", "at60", "variable"])
def test_every_step_moves_and_names_its_frame(player: Window, name: str) -> None:
    player.evaluate("name => bench.open(name)", name)
    rows = player.evaluate("() => bench.walk(1, 30)") + player.evaluate("() => bench.walk(-1, 30)")
    assert [row for row in rows if len(set(row)) != 1] == []
    assert [rows[0][0], rows[29][0], rows[-1][0]] == [1, 30, 0]


@pytest.mark.parametrize("name", ["at30", "at60", "variable"])
def test_a_pause_stands_on_the_frame_that_the_label_names(player: Window, name: str) -> None:
    player.evaluate("name => bench.open(name)", name)
    rows = [
        row for first in (0, 3, 6) for row in player.evaluate(f"() => bench.pauses({first}, 3)")
    ]
    assert [row for row in rows if len(set(row)) != 1] == []
    said = [frame for frame, _ in rows]
    assert len(set(said)) > 3, "it played between the pauses"
