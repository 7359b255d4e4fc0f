"""The whole way on what `bin/run` starts: a club is founded, a coach and an athlete join by their
links, two clips go in over a network that breaks, workers make them playable, the coach answers at
a frame, and the athlete's clip stops there. Nothing stands in for anything.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests import databases
from tests.browser.conftest import shot
from tests.browser.submit.files import video
from tests.browser.submit.test_submit import Network, add, clip, under_way
from tests.browser.waiting import wait_until
from tests.coachdesk.test_runner import ROOT, free_port, running, wait_ready
from tests.faults.ground import until

# The site has a database of its own; the browser fixture alone needs the tests' to be there.
pytestmark = [pytest.mark.kills, pytest.mark.django_db]
PASSWORD = "iron and patience"
FRAME = 21


@pytest.fixture
def site(tmp_path: Path) -> Iterator[tuple[str, dict[str, str]]]:
    """The address of a site that `bin/run` started empty, and the settings of its data."""
    port, data, database = free_port(), tmp_path / "data", databases.own()
    with running(data, port, **database):
        wait_ready(port, 60)
        yield f"http://localhost:{port}", {"COACHDESK_DATA": str(data), **database}


def found_club(address: str, settings: dict[str, str]) -> str:
    """The owner's link, as the README has it made."""
    words = ["--name", "Path Barbell", "--owner-email", "o@example.org", "--owner-name", "Oda"]
    done = subprocess.run(
        [sys.executable, "manage.py", "found_club", *words],
        cwd=ROOT,
        env={**os.environ, **settings, "COACHDESK_URL": address},
        capture_output=True,
        text=True,
        check=True,
    )
    return re.search(r"http\S+/join/\S+", done.stdout).group()  # type: ignore[union-attr]


def join(chromium: Browser, link: str, *, width: int) -> Page:
    context = chromium.new_context(viewport={"width": width, "height": 900}, locale="en-GB")
    page = context.new_page()
    page.goto(link)
    if page.get_by_label("Name").input_value() == "":
        page.get_by_label("Name").fill("Mira Solheim")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Join").click()
    page.wait_for_url(re.compile("/(desk|today)/"))
    return page


def invite(owner: Page, address: str, *, email: str, role: str) -> str:
    """The link that the page hands over, since mail goes to files here."""
    owner.goto(f"{address}/people/")
    owner.get_by_label("E-mail", exact=True).fill(email)
    owner.get_by_role("radio", name=role).check()
    owner.get_by_role("button", name="Send invitation").click()
    return re.search(r"http[^\s\"<]+/join/[^\s\"<]+", owner.content()).group()  # type: ignore[union-attr]


def submit_two_clips(phone: Page, address: str, folder: Path) -> str:
    short, long = video(folder, "set 2.mp4"), video(folder, "set 5.mp4", noise_mb=12)
    network = Network(phone)
    phone.goto(f"{address}/submit/")
    add(phone, short, long)
    under_way(phone, 2)
    network.cut()
    expect(clip(phone, 2).locator("[data-state]")).to_have_text("No connection")
    phone.get_by_label("What do you want to know?").fill("Why do my heels come up?")
    network.mend()
    expect(phone.locator("[data-saved]")).to_have_text("Saved")
    phone.get_by_role("button", name="Send question").click()
    phone.wait_for_url("**/submissions/*/", timeout=60_000)
    return phone.url


def bring_another_angle(coach: Page, phone: Page, address: str, folder: Path) -> None:
    """The coach asks for a clip from the front; it waits on the athlete until that plays."""
    coach.goto(f"{address}/desk/")
    coach.keyboard.press("Enter")
    coach.wait_for_url("**/review/*/")
    expect(coach.locator("send-reply button").first).to_be_visible()
    coach.keyboard.press("a")
    coach.wait_for_url("**/angle/")
    coach.get_by_role("radio", name=re.compile("^Front")).check()
    coach.get_by_label("What do you want to see?").fill("I cannot see your knees.")
    coach.get_by_role("button", name="Ask Mira").click()
    expect(coach.get_by_text("Mira is told by e-mail.")).to_be_visible()
    phone.goto(f"{address}/today/")
    expect(phone.get_by_text("I cannot see your knees.")).to_be_visible()
    phone.get_by_role("link", name="Add a clip").click()
    add(phone, video(folder, "front.mp4"))
    back = coach.get_by_text("Back with another angle, front")
    until(lambda: bool(coach.goto(f"{address}/desk/")) and back.count() == 1, 60, "it is back")


def answer(coach: Page, address: str) -> None:
    coach.goto(f"{address}/desk/")
    expect(coach.get_by_text("Why do my heels come up?")).to_be_visible()
    coach.keyboard.press("Enter")
    coach.wait_for_url("**/review/*/")
    expect(coach.locator("player-controls .at")).to_contain_text(" of ", timeout=60_000)
    expect(coach.get_by_role("group", name="Clips").get_by_role("button")).to_have_count(3)
    coach.evaluate("frame => document.querySelector('exact-player').goTo(frame)", FRAME)
    expect(coach.locator("player-controls .at b")).to_have_text(f"frame {FRAME}")
    coach.get_by_role("button", name="Note here").click()
    coach.get_by_label("What you see, and why it happens").fill("The heel leaves the floor here.")
    coach.get_by_role("button", name="Make it a focus point").click()
    coach.get_by_title("Not to standard").click()
    expect(coach.get_by_role("button", name="Send reply")).to_be_enabled(timeout=20_000)
    shot(coach, "whole-path-workbench")
    coach.keyboard.press("Control+Enter")
    expect(coach.get_by_text("Sent to Mira Solheim.")).to_be_visible()


def test_a_lift_goes_in_and_an_answer_comes_out(
    chromium: Browser, site: tuple[str, dict[str, str]], tmp_path: Path
) -> None:
    address, settings = site
    owner = join(chromium, found_club(address, settings), width=1440)
    coach = join(chromium, invite(owner, address, email="c@example.org", role="Coach"), width=1440)
    phone = join(chromium, invite(owner, address, email="a@example.org", role="Athlete"), width=390)
    asked = submit_two_clips(phone, address, tmp_path)
    bring_another_angle(coach, phone, address, tmp_path)
    answer(coach, address)
    phone.goto(asked)
    wait_until(
        phone,
        """frame => { const player = document.querySelector("exact-player");
        return player.table && player.paused && player.currentFrame === frame; }""",
        FRAME,
    )
    expect(phone.locator("#point-1")).to_contain_text("The heel leaves the floor here.")
    shot(phone, "whole-path-reply")
    assert list((tmp_path / "data" / "mail").iterdir()), "the reply was mailed, into a file here"
    for page in (owner, coach, phone):
        page.context.close()
