"""What seeking and stepping cost in real Chromium: the playable against an all-intra copy.

An all-intra copy decodes one picture for any seek, so it is the fastest a file of this codec can
be; the playable's short groups have to come near it at a fraction of its bytes. All play in the
product's own player, in one page, turn by turn, and a time is that from the wish to the picture:
told of by the browser for a video element, drawn for a cached step.
"""

from __future__ import annotations

import json
import random
import statistics
from pathlib import Path
from tempfile import TemporaryDirectory

import ffmpeg
from playwright.sync_api import Page, sync_playwright

from coachdesk.benchmarks.chromium import FLAGS, chromium_path
from coachdesk.benchmarks.figures import Row
from coachdesk.benchmarks.file_server import served
from coachdesk.demo.drawing import ClipSpec, draw_clip
from reviews.media import graph
from reviews.media.frames import frame_table
from reviews.media.limits import Limits
from reviews.media.make import make
from reviews.media.plan import plan, without_remux
from reviews.media.probe import probe

CHECKOUT = Path(__file__).resolve().parents[2]
LIMITS = Limits()
LIFT = ClipSpec(size=(720, 1280), seconds=4.0, reps=1)
GROUPS = {"playable": graph.GROUP, "intra": 1}
SEEKS = 160
ROUNDS = 5  # a p95 rests on few pictures; the median of several is what can be repeated
# Side by side: pictures of a video that is out of sight come late or never.
PAGE = """<!doctype html><meta charset="utf-8">
<style>exact-player { display: inline-block; width: 45% } video, canvas { width: 100% }</style>
<script>
  window.arrived = new Set();
  for (const name of ["whole", "cached"])
    document.addEventListener(name, ({ target }) => arrived.add(`${target.id} ${name}`), true);
</script>
<script type="module" src="/static/js/player/exact-player.js"></script>
<exact-player id="ours" src="/clips/playable.mp4" frames="/clips/playable.json"></exact-player>
<exact-player id="intra" src="/clips/intra.mp4" frames="/clips/intra.json"></exact-player>"""
# Every other turn begins with the other file, so that neither always finds the machine warm.
TIMES = """async (frames) => {
  const players = ["ours", "intra"].map((id) => document.getElementById(id));
  const times = { ours: [], intra: [] };
  for (const [turn, frame] of frames.entries()) {
    for (const player of turn % 2 ? players : [...players].reverse()) {
      const start = performance.now();
      const landed = await player.goTo(frame);
      times[player.id].push(performance.now() - start);
      if (landed !== frame) throw new Error(`${player.id} shows ${landed} instead of ${frame}`);
    }
  }
  return times;
}"""
# The file is all here and, for the cached one, its decoder is open.
WHOLE = """async (wanted) => {
  while (!wanted.every((name) => arrived.has(name))) await new Promise((on) => setTimeout(on, 50));
}"""


def rows() -> list[Row]:
    with TemporaryDirectory(prefix="bench-play-") as scratch:
        folder = Path(scratch)
        frames = _encode(folder)
        (folder / "video.html").write_text(PAGE)
        (folder / "cached.html").write_text(PAGE.replace('id="ours"', 'id="ours" cached'))
        with served({"/static/": CHECKOUT / "static", "/clips/": folder}) as address:
            return _measure(f"{address}/clips", frames)


def _encode(folder: Path) -> int:
    """The same pictures twice, with their frame tables; how many there are."""
    draw_clip(LIFT, folder / "drawn").video.rename(folder / "input")
    source = probe(folder / "input", LIMITS)
    wanted = without_remux(plan(source), source)
    counts = set()
    for name, group in GROUPS.items():
        given = graph.opened(source, LIMITS) | {"noautorotate": None}
        shown = graph.upright(source, wanted, ffmpeg.input("input", **given)["v:0"])
        options = graph.playable_options(source, wanted) | {"g": group}
        words = graph.words([ffmpeg.output(shown, str(folder / f"{name}.mp4"), **options)])
        make(words, folder=folder, frames=1, limits=LIMITS, on_progress=lambda _share: None)
        table = frame_table(probe(folder / f"{name}.mp4", LIMITS), 1.0)
        (folder / f"{name}.json").write_text(json.dumps(table.to_json()))
        counts.add(len(table.pts))
    (count,) = counts
    return count


def _measure(address: str, frames: int) -> list[Row]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=FLAGS)
        try:
            page = browser.new_page(viewport={"width": 1440, "height": 900})
            chance = random.Random(1)
            jumps = [chance.randrange(frames) for _ in range(SEEKS)]
            there_and_back = [*range(1, frames), *reversed(range(frames - 1))]
            _open(page, f"{address}/video.html", ["ours whole", "intra whole"], jumps)
            by_video = [
                _row("play.seek_p95", page, jumps),
                _row("play.step_p95", page, there_and_back),
            ]
            _open(page, f"{address}/cached.html", ["ours cached", "intra whole"], jumps)
            return [*by_video, _row("play.cached_step_p95", page, there_and_back)]
        finally:
            browser.close()


def _open(page: Page, address: str, wanted: list[str], jumps: list[int]) -> None:
    page.goto(address)
    page.evaluate(WHOLE, wanted)
    page.evaluate(TIMES, jumps[:20])  # the first ones open the decoders


def _row(name: str, page: Page, frames: list[int]) -> Row:
    rounds = [page.evaluate(TIMES, frames) for _ in range(ROUNDS)]
    ratio = statistics.median(_p95(times["ours"]) / _p95(times["intra"]) for times in rounds)
    theirs = statistics.median(_p95(times["intra"]) for times in rounds)
    against = f"all-intra copy, {theirs:.0f} ms; median of {ROUNDS} rounds"
    return Row(name=name, value=round(ratio, 4), unit="ratio", against=against, runs=len(frames))


def _p95(times: list[float]) -> float:
    return statistics.quantiles(times, n=20)[-1]
