"""Submitting on a phone, with tus-js-client in real Chromium against the real server."""

import json
import re
import signal
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import shot
from tests.browser.submit.files import video
from tests.browser.submit.phone import (
    Network,
    add,
    clip,
    has_arrived,
    is_in,
    make,
    originals,
    percent,
    under_way,
)
from tests.browser.waiting import wait_until
from tests.reviews.intake.site import TOKEN, Site

pytestmark = pytest.mark.xdist_group("submit")  # one server


def test_two_clips_over_a_network_that_breaks(
    phone: Page, network: Network, site: Site, tmp_path: Path
) -> None:
    """Submit with two clips, the network cut in the middle: both arrive, byte for byte."""
    short, long = video(tmp_path, "set 2.mp4"), video(tmp_path, "set 5.mp4", noise_mb=12)
    add(phone, short, long)
    is_in(phone, 1)
    under_way(phone, 2)
    network.cut()
    sentence = clip(phone, 2).locator("[data-sentence]")
    expect(sentence).to_have_text(
        re.compile(r"^The network is gone at \d+%\. Nothing is lost: it goes on by itself")
    )
    expect(clip(phone, 2).locator("[data-state]")).to_have_text("No connection")
    expect(clip(phone, 2).locator("[data-meter]")).to_have_class(re.compile("paused"))
    phone.get_by_label("What do you want to know?").fill("My heels come up. Why?")
    expect(phone.locator("[data-saved]")).to_contain_text("kept on this phone")
    expect(phone.locator("[data-foot]")).to_have_text(
        "You can send now. Clip 2 follows when the network is back."
    )
    shot(phone, "submit-offline-390")
    at = percent(phone, 2)
    network.mend()
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    under_way(phone, 2, at)
    phone.get_by_role("button", name="Send question").click()
    expect(phone.get_by_role("heading", name="Your question is with your coach")).to_be_visible()
    phone.wait_for_url("**/submissions/*/", timeout=60_000)
    has_arrived(site, short)
    has_arrived(site, long)
    assert len(originals(site)) == 2
    draft = site.people["mira"]["draft"]
    assert phone.url.endswith(f"/submissions/{draft}/")


def test_the_server_restarts_in_the_middle(
    phone: Page, network: Network, site: Site, tmp_path: Path
) -> None:
    file = video(tmp_path, "set.mp4", noise_mb=10)
    add(phone, file)
    under_way(phone, 1)
    site.end(signal.SIGKILL)
    expect(clip(phone, 1).locator("[data-state]")).to_have_text("No connection", timeout=30_000)
    site.start()
    is_in(phone, 1)
    has_arrived(site, file)


def test_a_reload_goes_on_where_it_stood(
    phone: Page, network: Network, site: Site, tmp_path: Path
) -> None:
    """The page cannot keep the file, so it asks for it; another file is told apart."""
    file, other = video(tmp_path, "set.mp4", noise_mb=10), video(tmp_path, "other.mp4")
    add(phone, file)
    under_way(phone, 1, 20)
    phone.reload()
    sentence = clip(phone, 1).locator("[data-sentence]")
    expect(sentence).to_have_text(
        re.compile(r"^\d+% of set\.mp4 is in\. Pick the same file again, and it goes on from there")
    )
    stood = percent(phone, 1)
    assert stood >= 10
    pick = clip(phone, 1).locator("[data-pick]")
    pick.set_input_files(str(other))
    expect(sentence).to_contain_text("That is another file. This clip began with set.mp4")
    patches: list[int] = []
    phone.on(
        "request",
        lambda request: (
            request.method == "PATCH"
            and patches.append(int(request.headers.get("upload-offset", -1)))
        ),
    )
    pick.set_input_files(str(file))
    is_in(phone, 1)
    assert next(at for at in patches if at >= 0) >= file.stat().st_size * stood // 100
    has_arrived(site, file)


def test_pause_and_go_on(phone: Page, network: Network, site: Site, tmp_path: Path) -> None:
    file = video(tmp_path, "set.mp4", noise_mb=8)
    add(phone, file)
    under_way(phone, 1)
    clip(phone, 1).get_by_role("button", name="Pause").click()
    expect(clip(phone, 1).locator("[data-sentence]")).to_have_text(
        re.compile(r"^Paused at \d+%\. What is in stays in\.$")
    )
    stood = percent(phone, 1)
    phone.wait_for_timeout(1500)
    assert percent(phone, 1) == stood
    clip(phone, 1).get_by_role("button", name="Go on").click()
    is_in(phone, 1)
    has_arrived(site, file)


def test_bad_input_is_named_kept_and_in_the_way_of_nothing(phone: Page, tmp_path: Path) -> None:
    add(phone, video(tmp_path, "set.mp4"))
    is_in(phone, 1)
    phone.get_by_label("RPE").fill("11")
    line = "RPE goes from 1 to 10. Ten means no rep was left."
    expect(phone.get_by_text(line)).to_be_visible()
    phone.get_by_role("button", name="Send question").click()
    expect(phone.get_by_text("2 answers need another look before this can go.")).to_be_visible()
    expect(phone.get_by_text("Write your question: what do you want to know?")).to_be_visible()
    shot(phone, "submit-errors-390")
    phone.reload()
    expect(phone.get_by_label("RPE")).to_have_value("11")
    expect(phone.get_by_text(line)).to_be_visible()
    expect(phone.get_by_label("RPE")).to_have_attribute("aria-invalid", "true")
    phone.get_by_label("RPE").fill("9")
    expect(phone.get_by_text(line)).to_be_hidden()
    phone.get_by_label("or reps left").fill("2")
    expect(phone.get_by_label("RPE")).to_have_value("")


def test_a_warning_sign_shows_the_caution_at_once(
    phone: Page, network: Network, site: Site, tmp_path: Path
) -> None:
    """No round trip: it works with the network gone, and the button stays what it was."""
    add(phone, video(tmp_path, "set.mp4"))
    is_in(phone, 1)
    phone.get_by_label("What do you want to know?").fill("Why?")
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    network.cut()
    phone.get_by_label("Yes").check()
    phone.get_by_label("Pain that wakes you at night").check()
    caution = phone.get_by_role("alert").filter(has_text="Form notes are coaching")
    expect(caution).to_contain_text("Have this looked at before you lift again")
    expect(caution).to_be_in_viewport()
    phone.get_by_label("Where", exact=True).fill("Left knee")
    network.mend()
    phone.get_by_label("0 to 10").fill("4")
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    phone.get_by_role("button", name="Send question").click()
    phone.wait_for_url("**/submissions/*/")


def test_what_was_typed_outlives_a_dead_network_and_a_closed_page(
    phone: Page, network: Network
) -> None:
    network.cut()
    phone.get_by_label("What have you tried?").fill("Slower descent")
    phone.get_by_label("Yes").check()
    phone.get_by_label("Where", exact=True).fill("Left knee")
    kept = json.loads(phone.evaluate("Object.values(localStorage).join('') || '{}'"))
    assert "Slower descent" in json.dumps(kept)
    network.mend()
    phone.reload()
    expect(phone.get_by_label("What have you tried?")).to_have_value("Slower descent")
    expect(phone.get_by_label("Where", exact=True)).to_have_value("Left knee")
    expect(phone.locator("[data-saved]")).to_have_text("Saved")


def test_what_arrives_while_the_page_is_being_left_is_on_the_next_one(phone: Page) -> None:
    """The next page was written before the change arrived, and comes after it."""
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route) if route.request.method == "PATCH" else route.fallback()

    def late(route: Route) -> None:
        written = route.fetch()
        with phone.expect_response(lambda answer: answer.request.method == "PATCH"):
            held[0].continue_()
        phone.wait_for_timeout(100)  # the page that is left hears of it
        route.fulfill(response=written)

    phone.route("**/*", hold)
    phone.get_by_label("What have you tried?").fill("Slower descent")
    wait_until(phone, "Object.values(localStorage).join('').includes('Slower descent')")
    phone.route(phone.url, late, times=1)
    wait_until(phone, "document.querySelector('[data-saved]').textContent === 'Saving'")
    while not held:
        phone.wait_for_timeout(50)
    phone.reload()
    phone.unroute("**/*", hold)
    expect(phone.get_by_label("What have you tried?")).to_have_value("Slower descent")
    expect(phone.locator("[data-saved]")).to_have_text("Saved")


def test_limits_are_told_before_a_byte_goes_out(phone: Page, tmp_path: Path) -> None:
    expect(phone.get_by_text("Up to 2\N{NO-BREAK SPACE}GB and 3 minutes a clip.")).to_be_visible()
    empty = tmp_path / "empty.mp4"
    empty.touch()
    add(phone, empty)
    expect(phone.get_by_text("empty.mp4 is empty. Pick the clip again.")).to_be_visible()


def test_a_clip_comes_out_again(phone: Page, site: Site, tmp_path: Path) -> None:
    """One whose video never came leaves at once; for the others see test_clips.py."""
    add(phone, video(tmp_path, "set.mp4"))
    is_in(phone, 1)
    site.json("POST", phone.locator("submit-page").get_attribute("data-clips") or "")
    phone.reload()
    clip(phone, 2).get_by_role("button", name="Remove").click()
    expect(phone.locator(".clip")).to_have_count(1)
    phone.reload()
    expect(phone.locator(".clip")).to_have_count(1)


def test_a_clip_is_followed_until_it_plays(phone: Page, site: Site, tmp_path: Path) -> None:
    """A real transcode: the page asks on, and shows the poster that was made."""
    add(phone, video(tmp_path, "set.mp4"))
    is_in(phone, 1)
    make(site)
    expect(clip(phone, 1).locator("[data-state]")).to_have_text("Ready")
    poster = clip(phone, 1).locator("[data-thumb] img")
    expect(poster).to_have_attribute("src", re.compile("/media/clips/.+/poster"))
    assert poster.evaluate("image => image.decode().then(() => image.naturalWidth)") > 0


def test_what_will_not_play_says_why_and_is_sent_again(
    phone: Page, site: Site, tmp_path: Path
) -> None:
    page_of_text = tmp_path / "notes.mp4"
    page_of_text.write_text("<html>not a video</html>")
    add(phone, page_of_text)
    is_in(phone, 1)
    phone.get_by_label("Reps", exact=True).fill("3")
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    make(site)
    expect(clip(phone, 1).locator("[data-state]")).to_have_text("Failed")
    sentence = clip(phone, 1).locator("[data-sentence]")
    expect(sentence).to_contain_text("video")
    good = video(tmp_path, "set.mp4")
    clip(phone, 1).locator("[data-pick]").set_input_files(str(good))
    is_in(phone, 1)
    expect(phone.locator(".clip")).to_have_count(1)
    expect(phone.get_by_label("Reps", exact=True)).to_have_value("3")
    make(site)
    expect(clip(phone, 1).locator("[data-state]")).to_have_text("Ready")
    assert page_of_text.read_bytes() not in originals(site)


def test_signed_out_in_the_middle_loses_no_word(phone: Page, site: Site) -> None:
    phone.context.clear_cookies()
    phone.get_by_label("What have you tried?").fill("A slower descent")
    expect(phone.locator("[data-saved]")).to_contain_text("You are signed out.")
    cookies = {"sessionid": site.people["mira"]["session"], "csrftoken": TOKEN}
    phone.context.add_cookies(
        [{"name": k, "value": v, "url": site.url} for k, v in cookies.items()]
    )
    phone.reload()
    expect(phone.get_by_label("What have you tried?")).to_have_value("A slower descent")
    expect(phone.locator("[data-saved]")).to_have_text("Saved")


def test_the_screen_stays_awake_while_bytes_move(
    phone: Page, network: Network, tmp_path: Path
) -> None:
    """Screen Wake Lock API (W3C): asked for while sending, released when all is in."""
    phone.evaluate(
        """() => {
          window.locks = [];
          navigator.wakeLock.request = async () => {
            const lock = { released: false, release: async () => { lock.released = true; } };
            window.locks.push(lock);
            return lock;
          };
        }"""
    )
    add(phone, video(tmp_path, "set.mp4", noise_mb=4))
    under_way(phone, 1)
    assert phone.evaluate("window.locks.map((lock) => lock.released)") == [False]
    is_in(phone, 1)
    wait_until(phone, "window.locks.every((lock) => lock.released)")
