"""The load page draws its charts under our own content security policy, and says what it knows."""

from django.urls import reverse

from tests.browser.load.pages import trained
from tests.browser.waiting import wait_until
from tests.conftest import Cast
from tests.reviews.replies.test_athlete_faults import told


def test_charts_draw_and_every_one_has_its_table(cast: Cast, open_page) -> None:
    trained(cast)
    told(cast, "Hips rise first")
    page = open_page(cast.coach, width=390)
    page.goto(reverse("athlete-load", args=[cast.athlete.pk]))
    wait_until(page, "document.querySelector('load-charts[data-drawn]') !== null")
    assert page.locator(".load-chart canvas").count() == 2
    # Something other than the ground was drawn in both.
    inked = """() => [...document.querySelectorAll('.load-chart canvas')].map((canvas) =>
      canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height).data
        .some((value, at) => at % 4 === 3 && value > 0))"""
    assert page.evaluate(inked) == [True, True]
    assert page.get_by_text("it does not predict injury").is_visible()
    for opener in page.get_by_text("Table, formula and source").all():
        opener.click()
    by_week, by_day = page.locator(".load-table").all()
    assert by_week.locator("tbody tr").count() == 13
    assert "at least" in by_week.inner_text()
    assert "not all of it is known" in by_day.inner_text()
    assert page.get_by_text("fewer than 28 known days in a row").count() == 3
    # Faults come by a request of their own, and go on with the numbers of the list before them.
    page.get_by_role("link", name="Hips rise first").wait_for()
    wait_until(page, "document.querySelector('[data-number]').textContent === '4'")
    page.get_by_label("Measure").select_option("volume")
    page.get_by_role("button", name="Show").click()
    page.get_by_role("heading", name="Volume load by week").wait_for()
    assert page.get_by_label("Lift").is_visible()
