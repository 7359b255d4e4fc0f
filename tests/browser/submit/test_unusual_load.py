"""A load far above what is known, typed on the submit page: asked about beside its field, kept."""

import json
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import shot
from tests.browser.submit.files import video
from tests.browser.submit.phone import Network, add, clip, is_in, make
from tests.reviews.intake.site import Site

pytestmark = pytest.mark.xdist_group("submit")  # one server
LIFT = "Low-bar squat"
QUESTION = "250\u2009kg is 19% above the 210\u2009kg known for this lift. Is that load right?"
YES = "Yes, 250\u2009kg"
SESSION, SET = "a" * 8 + "-0000-4000-8000-" + "0" * 12, "b" * 8 + "-0000-4000-8000-" + "0" * 12


@pytest.fixture(autouse=True)
def squatted(site: Site, phone: Page) -> int:
    """210 kg are in Mira's log; the movement's id."""
    option = phone.locator("#clip-template").evaluate(
        "(template, name) => [...template.content.querySelectorAll('option')]"
        ".find((one) => one.text === name).value",
        LIFT,
    )
    when = "2026-11-02T12:00:00Z"
    lifted = {"revision": 1, "movement": int(option), "load": "210", "reps": 1, "done_at": when}
    site.json("PUT", f"/api/v1/log/{SESSION}/", body={"revision": 1, "started_at": when})
    site.json("PUT", f"/api/v1/log/{SESSION}/sets/{SET}/", body=lifted)
    return int(option)


def type_heavy(phone: Page, file: Path) -> Locator:
    """A clip of a 250 kg squat; the button that answers the question."""
    add(phone, file)
    is_in(phone, 1)
    phone.get_by_label("What do you want to know?").fill("Is this deep enough?")
    phone.get_by_label("Movement").select_option(label=LIFT)
    phone.get_by_label("Load").fill("250")
    yes = clip(phone, 1).get_by_role("button", name=YES)
    expect(yes).to_be_visible()
    return yes


def stored(phone: Page, site: Site) -> dict[str, object]:
    url = clip(phone, 1).get_attribute("data-url") or ""
    card: dict[str, object] = site.json("GET", url)
    return card


def test_the_question_stands_beside_the_field_and_survives_a_reload(
    phone: Page, site: Site, tmp_path: Path, squatted: int
) -> None:
    yes = type_heavy(phone, video(tmp_path))
    load = phone.get_by_label("Load")
    expect(clip(phone, 1).get_by_text(QUESTION)).to_be_visible()
    expect(load).to_have_accessible_description(QUESTION)
    expect(load).to_have_value("250")
    assert (yes.bounding_box() or {"height": 0})["height"] >= 44
    assert stored(phone, site)["load"] == {"value": "", "unit": "kg"}
    shot(phone, "submit-unusual-load-390")
    phone.get_by_role("button", name="Send question").click()
    expect(phone.get_by_text("One answer needs another look before this can go.")).to_be_visible()
    expect(load).to_be_focused()
    phone.reload()
    expect(load).to_have_value("250")
    expect(clip(phone, 1).get_by_text(QUESTION)).to_be_visible()
    yes.click()
    expect(yes).to_be_hidden()
    expect(clip(phone, 1).get_by_label("kg", exact=True)).to_be_focused()
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    card = stored(phone, site)
    assert (card["load"], card["movement"]) == ({"value": "250", "unit": "kg"}, squatted)
    phone.get_by_role("button", name="Send question").click()
    phone.wait_for_url("**/submissions/*/")


def test_another_load_takes_the_question_away(phone: Page, site: Site, tmp_path: Path) -> None:
    yes = type_heavy(phone, video(tmp_path))
    yes.click()
    phone.get_by_label("Load").fill("260")  # before the answer to 250 is in, and more than that
    phone.get_by_label("Load").fill("300")
    expect(clip(phone, 1).get_by_role("button", name="Yes, 300\u2009kg")).to_be_visible()
    phone.get_by_label("Load").fill("150")
    expect(clip(phone, 1).get_by_role("button", name="Yes")).to_be_hidden()
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    assert stored(phone, site)["load"] == {"value": "150", "unit": "kg"}


def test_another_movement_asks_and_is_stored_with_the_answer(
    phone: Page, site: Site, tmp_path: Path, squatted: int
) -> None:
    add(phone, video(tmp_path))
    is_in(phone, 1)
    phone.get_by_label("Load").fill("250")
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    phone.get_by_label("Movement").select_option(label=LIFT)
    yes = clip(phone, 1).get_by_role("button", name=YES)
    yes.click()
    expect(yes).to_be_hidden()
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    assert stored(phone, site)["movement"] == squatted


def test_it_is_answered_without_a_network(
    phone: Page, network: Network, site: Site, tmp_path: Path
) -> None:
    yes = type_heavy(phone, video(tmp_path))
    network.cut()
    yes.click()
    expect(yes).to_be_hidden()
    expect(phone.locator("[data-saved]")).to_contain_text("The network is gone.")
    kept = json.loads(phone.evaluate("Object.values(localStorage).join('') || '{}'"))
    assert '"load_confirmed": true' in json.dumps(kept)
    network.mend()
    phone.reload()
    expect(phone.get_by_label("Load")).to_have_value("250")
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    assert stored(phone, site)["load"] == {"value": "250", "unit": "kg"}


def test_it_asks_of_the_clip_that_takes_the_place_of_a_failed_one(
    phone: Page, site: Site, tmp_path: Path
) -> None:
    text = tmp_path / "notes.mp4"
    text.write_text("<html>not a video</html>")
    yes = type_heavy(phone, text)
    make(site)
    expect(clip(phone, 1).locator("[data-state]")).to_have_text("Failed")
    clip(phone, 1).locator("[data-pick]").set_input_files(str(video(tmp_path)))
    is_in(phone, 1)
    expect(phone.get_by_label("Load")).to_have_value("250")
    yes.click()
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    assert stored(phone, site)["load"] == {"value": "250", "unit": "kg"}


def test_a_clip_that_is_removed_takes_its_question_along(
    phone: Page, site: Site, tmp_path: Path
) -> None:
    add(phone, video(tmp_path))
    is_in(phone, 1)
    site.json("POST", phone.locator("submit-page").get_attribute("data-clips") or "")
    phone.reload()
    second = clip(phone, 2)
    second.get_by_label("Movement").select_option(label=LIFT)
    second.get_by_label("Load").fill("250")
    expect(second.get_by_role("button", name=YES)).to_be_visible()
    second.get_by_role("button", name="Remove").click()
    expect(phone.locator(".clip")).to_have_count(1)
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    phone.get_by_label("What do you want to know?").fill("Is this deep enough?")
    phone.get_by_role("button", name="Send question").click()
    phone.wait_for_url("**/submissions/*/")
