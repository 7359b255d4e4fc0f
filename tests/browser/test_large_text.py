"""The athlete's pages on a phone whose text is set to twice its size (WCAG 2.2, 1.4.4): nothing is
written over anything else, nothing is cut off, and whatever is tapped stays a thumb wide.

The browser's own setting is the root's font size, which is what the test changes. A phone is 390 px
wide.
"""

from pathlib import Path

import pytest

from tests.browser.conftest import shot
from tests.browser.pages import Look, every_look
from tests.browser.test_axe import Asking
from tests.conftest import Cast

TOUCH_PX = 44  # WCAG 2.2, 2.5.5 (AAA)
ROUTES = ("training", "submission", "athlete-home", "submit-draft")
LOOKS = [look for look in every_look() if look.route in ROUTES and look.who == "athlete"]

FAULTS = (Path(__file__).parent / "large_text.js").read_text()


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)
def test_twice_the_text_size_covers_nothing(look: Look, cast: Cast, open_page) -> None:
    path = look.build(cast)
    page = open_page(cast.athlete, width=390)
    asking = Asking(page)
    page.goto(path)
    asking.wait()
    page.locator("details").evaluate_all("all => all.forEach((one) => { one.open = true; })")
    faults = page.evaluate(FAULTS, TOUCH_PX)
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        shot(page, f"large-{look.name}-{theme}")
    assert not faults, "\n".join(faults)
