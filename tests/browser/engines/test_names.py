"""No field of a custom element has the name of something that an engine gives every element: what
is put there is changed or lost ("cue" reads back as true in WebKit)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from coachdesk.benchmarks.file_server import served
from tests.browser.engines.window import Window

HERE = Path(__file__).parent
STATIC = HERE.parents[2] / "static"
DEFINES = re.compile(r'customElements\.define\("([\w-]+)"')

# Set, or done in another way, on purpose: each still means what it does for every element.
MEANT = {"className", "focus", "hidden", "inert", "innerHTML", "textContent"}


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with served({"/static/": STATIC, "/tests/": HERE}) as url:
        yield url


def test_no_custom_element_takes_a_name_that_every_element_has(
    window: Window, address: str
) -> None:
    modules = {path: DEFINES.findall(path.read_text()) for path in STATIC.rglob("js/**/*.js")}
    defining = sorted(path for path, names in modules.items() if names)
    window.go(f"{address}/tests/blank.html")
    window.evaluate("() => import('/tests/names.js').then(() => null)")
    addresses = [f"/static/{path.relative_to(STATIC)}" for path in defining]
    found = window.evaluate("(modules) => names.collisions(modules)", addresses)
    ours = {name for names in modules.values() for name in names}
    assert set(found["elements"]) == ours
    assert [one for one in found["collisions"] if one.split(".")[1] not in MEANT] == []
