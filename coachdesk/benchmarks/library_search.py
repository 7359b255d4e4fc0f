"""What a letter costs in the palette of a thousand library entries, in real Chromium.

The product's own element and search: from a letter in the field to the list laid out, each letter
of several searches. 16 ms is one picture of a screen at 60 Hz.
"""

import json
import random
import statistics
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import sync_playwright

from coachdesk.benchmarks.chromium import FLAGS, chromium_path
from coachdesk.benchmarks.figures import Row
from coachdesk.benchmarks.file_server import served
from coachdesk.common.paths import CHECKOUT

ENTRIES = 1_000
ROUNDS = 20
SEARCHES = ["hips", "bar path", "knees in", "brace", "é", "push the floor", "zzz"]
WORDS = """hips knees bar floor brace chest elbows heels toes depth lockout setup grip slack back
shoulders path speed pause tempo wall belt push keep pull meet drive rise first early late soft"""
PAGE = """<!doctype html><meta charset="utf-8">
<link rel="stylesheet" href="/static/css/tokens.css">
<link rel="stylesheet" href="/static/css/base.css">
<link rel="stylesheet" href="/static/css/workbench-reply.css">
<script type="module" src="/static/js/workbench/library-finder.js"></script>
<library-finder></library-finder>"""
TIMES = """async ([entries, searches, rounds]) => {
  await customElements.whenDefined("library-finder");
  const finder = document.querySelector("library-finder");
  const input = finder.querySelector("input");
  finder.entries = entries;
  input.focus();
  const times = [];
  let found = 0;
  for (let round = 0; round < rounds; round += 1)
    for (const letters of searches)
      for (let end = 1; end <= letters.length; end += 1) {
        input.value = letters.slice(0, end);
        const start = performance.now();
        input.dispatchEvent(new InputEvent("input", { bubbles: true }));
        finder.getBoundingClientRect(); // the browser has to lay it out now
        times.push(performance.now() - start);
        found += finder.querySelectorAll("[role=option]").length;
        await new Promise((on) => setTimeout(on)); // as keys do, each comes in a turn of its own
      }
  return { times, found };
}"""


def rows() -> list[Row]:
    with TemporaryDirectory(prefix="bench-library-") as scratch:
        (Path(scratch) / "page.html").write_text(PAGE)
        roots = {"/static/": CHECKOUT / "static", "/bench/": Path(scratch)}
        with served(roots) as address:
            times = _times(f"{address}/bench/page.html")
    p95 = statistics.quantiles(times, n=20)[-1]
    against = f"p95 of a letter at {ENTRIES} entries: at most 16"
    return [Row(name="library.palette_ms", value=round(p95, 3), unit="ms", against=against,
                runs=len(times))]  # fmt: skip


def _times(page_address: str) -> list[float]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=FLAGS)
        try:
            page = browser.new_page(viewport={"width": 1440, "height": 900})
            page.goto(page_address)
            page.evaluate(TIMES, [_entries(), SEARCHES, 1])  # the engine has compiled it once
            measured = page.evaluate(TIMES, [_entries(), SEARCHES, ROUNDS])
        finally:
            browser.close()
    if not measured["found"]:
        raise AssertionError("The palette found nothing: " + json.dumps(_entries()[:2]))
    return list(measured["times"])


def _entries() -> list[dict[str, object]]:
    """Names of three to six words of the trade, drawn by a fixed seed."""
    chance = random.Random(1)
    words = WORDS.split()
    kinds = ["fault", "cue", "drill"]
    return [
        {
            "id": n,
            "kind": kinds[n % 3],
            "name": " ".join(chance.sample(words, chance.randrange(3, 7))).capitalize(),
            "aside": "Ascent",
            "phase": "ascent",
        }
        for n in range(ENTRIES)
    ]
