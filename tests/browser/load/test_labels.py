"""No label of a chart lies on another: by their boxes, at both widths, in both themes."""

from datetime import timedelta
from itertools import combinations
from typing import Any

import pytest
from django.urls import reverse
from django.utils.timezone import now
from playwright.sync_api import Page

from athletes.models import PainReport, User
from tests.browser.conftest import shot
from tests.browser.load.pages import trained
from tests.browser.maxes.pages import shipped
from tests.browser.waiting import wait_until
from tests.conftest import Cast
from tests.programming.maxes.lifting import day, judged
from tests.reviews.replies.test_athlete_faults import told

BOXES = """selector => [...document.querySelectorAll(selector)].map((one) => {
  const { left, right, top, bottom } = one.getBoundingClientRect();
  return { text: one.textContent.trim(), left, right, top, bottom };
})"""
WIDTHS_AND_THEMES = [(390, "light"), (390, "dark"), (1440, "light"), (1440, "dark")]


def overlapping(boxes: list[dict[str, Any]]) -> list[tuple[str, str]]:
    return [
        (one["text"], other["text"])
        for one, other in combinations(boxes, 2)
        if min(one["right"], other["right"]) - max(one["left"], other["left"]) > 0.5
        and min(one["bottom"], other["bottom"]) - max(one["top"], other["top"]) > 0.5
    ]


def check(page: Page, selector: str, width: int, least: int) -> None:
    boxes = page.evaluate(BOXES, selector)
    assert len(boxes) >= least, boxes
    assert overlapping(boxes) == []
    assert [box for box in boxes if box["left"] < 0 or box["right"] > width] == []


@pytest.mark.parametrize(("width", "theme"), WIDTHS_AND_THEMES)
def test_labels_of_the_load_charts_stand_apart(
    cast: Cast, open_page, width: int, theme: str
) -> None:
    """Days on end with pain, a fault on the same days, and averages that end close together."""
    trained(cast)
    for days in (8, 8, 10, 11, 12, 39, 41):
        PainReport.objects.create(
            athlete=cast.athlete, where="knee", score=3, reported_at=now() - timedelta(days=days)
        )
    told(cast, "Hips rise first")
    page = open_page(cast.coach, width=width, theme=theme)
    page.goto(reverse("athlete-load", args=[cast.athlete.pk]))
    page.get_by_role("link", name="Hips rise first").wait_for()
    wait_until(page, "document.querySelectorAll('.load-label[data-kind=fault]').length === 2")
    for chart in ("weeks", "averages"):
        check(page, f"[data-chart={chart}] .load-label", width, least=15)
    shot(page, f"load-labels-{width}-{theme}")


@pytest.mark.parametrize(("width", "theme"), WIDTHS_AND_THEMES)
@pytest.mark.parametrize(("unit", "loads"), [
    ("kg", ["100", "122.5", "147.5", "150"]),
    ("lb", ["102.058", "124.738", "147.418"]),
    ("kg", ["20", "60", "1050"]),
])  # fmt: skip
def test_labels_of_the_max_chart_stand_apart(
    cast: Cast, open_page, width: int, theme: str, unit: str, loads: list[str]
) -> None:
    User.objects.filter(pk=cast.coach.pk).update(unit=unit)
    squat = shipped("Low-bar squat", "squat")
    for n, load in enumerate(loads):
        judged(cast.athlete, day(n), load, "ssn" if n % 2 else "sss", "8", movement=squat)
    page = open_page(cast.coach, width=width, theme=theme)
    page.goto(reverse("max-history", args=[cast.athlete.pk, squat.pk]))
    check(page, ".scatter text", width, least=2)
    shot(page, f"max-labels-{unit}-{loads[-1]}-{width}-{theme}")
