"""What cannot be read in forced colours, from the pixels a browser paints.

A style sheet cannot be trusted about it: behind text on a page the browser paints a backplate of
its own, so a colour that is right by its name is lost on it. WCAG 2.2, 1.4.3: text has a contrast
of 4.5 to 1 with what lies behind it.
"""

import io
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image
from playwright.sync_api import Page

from tests.browser.conftest import shot

LEAST = 4.5
_SHARE = np.arange(256) / 255
LINEAR = np.where(_SHARE <= 0.04045, _SHARE / 12.92, ((_SHARE + 0.055) / 1.055) ** 2.4)
WEIGHTS = np.array([0.2126, 0.7152, 0.0722])
TEXTS = (Path(__file__).parent / "forced.js").read_text()


def unreadable(page: Page, name: str) -> list[str]:
    """The words that forced colours leave without contrast, at this width."""
    page.emulate_media(forced_colors="active")
    page.evaluate("scrollTo(0, 0)")
    texts = page.evaluate(TEXTS)
    picture = Image.open(io.BytesIO(page.screenshot(full_page=True, animations="disabled")))
    rgb = np.asarray(picture.convert("RGB"))
    shot(page, name)
    page.emulate_media(forced_colors="none")
    lost = [f"{name}: “{text['words']}”" for text in texts if _contrast(rgb, text["box"]) < LEAST]
    return list(dict.fromkeys(lost))


def _contrast(rgb: Any, box: list[float]) -> float:
    """Of the lightest and the darkest pixel in a box (WCAG 2.2, relative luminance)."""
    left, top, right, bottom = (round(edge) for edge in box)
    part = rgb[max(0, top) : bottom, max(0, left) : right]
    if part.size == 0:
        return LEAST  # outside the picture: scrolled out of a part of the page
    light = LINEAR[part] @ WEIGHTS
    return float((light.max() + 0.05) / (light.min() + 0.05))
