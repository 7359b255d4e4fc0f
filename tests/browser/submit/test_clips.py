"""The list of clips on the submit page: numbers that stay, a removal that can be undone, a file
that finds its clip, words that fit their buttons, and one tab at a time."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import shot
from tests.browser.submit.files import video
from tests.browser.submit.phone import Network, add, clip, is_in, percent, under_way
from tests.reviews.intake.site import Site

pytestmark = pytest.mark.xdist_group("submit")  # one server


def titles(page: Page) -> list[str]:
    """The headings of the clips that are there."""
    return page.locator(".clip [data-title]:visible").all_text_contents()


def test_a_clip_keeps_its_number_when_another_is_removed(phone: Page, tmp_path: Path) -> None:
    add(phone, video(tmp_path, "set 1.mp4"), video(tmp_path, "set 2.mp4"))
    is_in(phone, 1)
    is_in(phone, 2)
    before = titles(phone)
    clip(phone, 1).get_by_role("button", name="Remove").click()
    expect(clip(phone, 1).locator("[data-title]")).to_be_hidden()
    assert titles(phone) == before[1:]
    shot(phone, "submit-removed-390")
    phone.reload()
    expect(clip(phone, 2).locator("[data-title]")).to_have_text(before[1])
    assert titles(phone) == before[1:]


def test_removing_a_clip_that_is_in_can_be_undone(phone: Page, tmp_path: Path) -> None:
    add(phone, video(tmp_path, "set.mp4"))
    is_in(phone, 1)
    clip(phone, 1).get_by_role("button", name="Remove").click()
    removed = clip(phone, 1).locator("[data-removed]")
    expect(removed).to_contain_text(re.compile(r"Clip \d+ is removed: set\.mp4\."))
    expect(clip(phone, 1).get_by_role("button", name="Undo")).to_be_focused()
    phone.reload()  # another day
    clip(phone, 1).get_by_role("button", name="Undo").click()
    expect(clip(phone, 1).locator("[data-sentence]")).to_contain_text("set.mp4")
    expect(removed).to_be_hidden()
    phone.reload()
    is_in(phone, 1)


def test_what_was_removed_does_not_go_with_the_question(
    phone: Page, site: Site, tmp_path: Path
) -> None:
    add(phone, video(tmp_path, "set 1.mp4"), video(tmp_path, "set 2.mp4"))
    is_in(phone, 1)
    is_in(phone, 2)
    clip(phone, 1).get_by_role("button", name="Remove").click()
    phone.get_by_label("What do you want to know?").fill("Is this deep enough?")
    phone.get_by_role("button", name="Send question").click()
    phone.wait_for_url("**/submissions/*/")
    sent = re.search("submissions/([^/]+)/", phone.url)
    assert sent
    cards = site.json("GET", f"/api/v1/submissions/{sent[1]}/")["clips"]
    names = [site.json("GET", f"/api/v1/clips/{card['id']}/")["filename"] for card in cards]
    assert names == ["set 2.mp4"]


@pytest.mark.parametrize("button", ["[data-add]", ".clip:nth-child(2) [data-pick]"])
def test_the_same_file_goes_on_by_whichever_button_it_is_chosen(
    phone: Page, network: Network, site: Site, tmp_path: Path, button: str
) -> None:
    file = video(tmp_path, "set.mp4", noise_mb=10)
    add(phone, file)
    under_way(phone, 1, 20)
    if "pick" in button:  # a second clip whose video never came
        site.json("POST", phone.locator("submit-page").get_attribute("data-clips") or "")
    phone.reload()
    expect(clip(phone, 1).locator("[data-sentence]")).to_contain_text("of set.mp4 is in.")
    stood, clips = percent(phone, 1), phone.locator(".clip").count()
    offsets: list[int] = []
    phone.on(
        "request",
        lambda request: (
            request.method == "PATCH"
            and offsets.append(int(request.headers.get("upload-offset", -1)))
        ),
    )
    phone.set_input_files(button, str(file))
    is_in(phone, 1)
    assert phone.locator(".clip").count() == clips
    assert next(at for at in offsets if at >= 0) >= file.stat().st_size * stood // 100


def test_a_clip_without_a_network_does_not_call_itself_paused(
    phone: Page, network: Network, tmp_path: Path
) -> None:
    """A button that says Pause stood beside it."""
    add(phone, video(tmp_path, "set.mp4", noise_mb=8))
    under_way(phone, 1)
    network.cut()
    expect(clip(phone, 1).locator("[data-state]")).to_have_text("No connection")
    clip(phone, 1).get_by_role("button", name="Pause").click()
    expect(clip(phone, 1).locator("[data-state]")).to_have_text("Paused")
    expect(clip(phone, 1).get_by_role("button", name="Pause")).to_be_hidden()


def test_two_tabs_on_one_draft_do_not_overwrite_each_other(phone: Page, site: Site) -> None:
    question = phone.get_by_label("What do you want to know?")
    question.fill("From the first tab")
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    second = phone.context.new_page()
    second.goto("/submit/")
    elsewhere = second.get_by_text("This question is open in another tab.")
    expect(elsewhere).to_be_visible()
    shot(second, "submit-second-tab-390")
    shut = "field => field.closest('[inert]') !== null"
    assert second.get_by_label("What do you want to know?").evaluate(shut)
    assert not question.evaluate(shut)
    question.fill("From the first tab, more")
    second.get_by_role("button", name="Go on here").click()
    expect(elsewhere).to_be_hidden()
    expect(second.get_by_label("What do you want to know?")).to_have_value(
        "From the first tab, more"
    )
    expect(phone.get_by_text("This question is open in another tab.")).to_be_visible()
    assert question.evaluate(shut)
    second.get_by_label("What do you want to know?").fill("From the second tab")
    expect(second.locator("[data-saved]")).to_have_text("Saved")
    draft = second.locator("submit-page").get_attribute("data-url") or ""
    assert site.json("GET", draft)["question"] == "From the second tab"
