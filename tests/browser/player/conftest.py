"""A page with the player and clips whose pictures carry their own number."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from coachdesk.benchmarks.file_server import served
from tests.browser.player import clips
from tests.browser.waiting import wait_until

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="module")
def clip_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Clips of constant and variable rate, each with its frame table beside it."""
    folder = tmp_path_factory.mktemp("clips")
    clips.write_pair(folder, "constant", clips.constant())
    clips.write_pair(folder, "variable", clips.variable(), b_frames=0)
    clips.write_pair(folder, "single", [0])
    fast = [number * clips.TICKS // 60 for number in range(120)]
    clips.write_pair(folder, "fast", fast, b_frames=0, size=(1280, 720))
    return folder


@pytest.fixture(scope="module")
def address(clip_folder: Path) -> Iterator[str]:
    """The player page, its scripts and the clips, served with ranges."""
    here = Path(__file__).parent
    roots = {"/static/": ROOT / "static", "/tests/": here, "/clips/": clip_folder}
    with served(roots) as url:
        yield url


@pytest.fixture
def page(chromium: Browser, address: str) -> Iterator[Page]:
    """The player page; an error thrown in it fails the test."""
    context = chromium.new_context(viewport={"width": 800, "height": 900})
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(f"{address}/tests/exact.html")
    wait_until(page, "window.bench !== undefined")
    yield page
    context.close()
    assert errors == []
