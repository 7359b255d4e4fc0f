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
TEXTS = (Path(__file__).parent / "forced.js").read_text()


def unreadable(page: Page, name: str) -> list[str]:
    """The words that forced colours leave without contrast, at this width."""
    page.emulate_media(forced_colors="active")
    page.evaluate("scrollTo(0, 0)")
    texts = page.evaluate(TEXTS)
    light = _luminance(page.screenshot(full_page=True, animations="disabled"))
    shot(page, name)
    page.emulate_media(forced_colors="none")
    lost = [f"{name}: “{text['words']}”" for text in texts if _contrast(light, text) < LEAST]
    return list(dict.fromkeys(lost))


def _luminance(picture: bytes) -> Any:
    """Relative luminance of every pixel (WCAG 2.2)."""
    rgb = np.asarray(Image.open(io.BytesIO(picture)).convert("RGB")) / 255
    linear = np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4)
    return linear @ np.array([0.2126, 0.7152, 0.0722])


def _contrast(light: Any, text: dict[str, Any]) -> float:
    left, top, right, bottom = (round(edge) for edge in text["box"])
    part = light[max(0, top) : bottom, max(0, left) : right]
    if part.size == 0:
        return LEAST  # outside the picture: scrolled out of a part of the page
    return float((part.max() + 0.05) / (part.min() + 0.05))
