"""What a phone does on the submit page: its network, its files, and what the server has of them."""

import time
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.waiting import PATIENCE_SECONDS, wait_until
from tests.reviews.intake.site import Site

SLOW = 1_500_000  # bytes a second: a good mobile uplink, slow enough to be cut in the middle
MB = 1024**2
MEDIA = "Being made ready"


class Network:
    """The phone's network: slow, cut, or mended. One session, or two would undo each other."""

    def __init__(self, page: Page) -> None:
        self.session = page.context.new_cdp_session(page)
        self.session.send("Network.enable")
        self.mend()

    def mend(self) -> None:
        self._set(offline=False)

    def cut(self) -> None:
        self._set(offline=True)

    def _set(self, *, offline: bool) -> None:
        self.session.send(
            "Network.emulateNetworkConditions",
            {"offline": offline, "latency": 20, "downloadThroughput": -1, "uploadThroughput": SLOW},
        )


def add(page: Page, *files: Path) -> None:
    page.set_input_files("[data-add]", [str(file) for file in files])


def clip(page: Page, number: int):
    return page.locator(".clip").nth(number - 1)


def percent(page: Page, number: int) -> int:
    return int(clip(page, number).get_by_role("progressbar").get_attribute("aria-valuenow") or 0)


def under_way(page: Page, number: int, at_least: int = 5) -> None:
    expect(clip(page, number).locator("[data-state]")).to_contain_text("Receiving")
    wait_until(
        page,
        "([n, p]) => Number(document.querySelectorAll('.clip [data-meter]')[n - 1]"
        ".getAttribute('aria-valuenow')) >= p",
        [number, at_least],
    )


def is_in(page: Page, number: int, seconds: int = 60) -> None:
    expect(clip(page, number).locator("[data-sentence]")).to_contain_text(
        MEDIA, timeout=seconds * 1000
    )


def originals(site: Site) -> list[bytes]:
    return [path.read_bytes() for path in (site.data / "media").rglob("originals/*/*")]


def has_arrived(site: Site, file: Path) -> None:
    """Byte for byte; else it says what is there. The last byte is acknowledged, and the page
    says so, a moment before the file gets its final name."""
    wanted = file.read_bytes()
    until = time.monotonic() + PATIENCE_SECONDS
    while wanted not in originals(site):
        if time.monotonic() > until:
            there = [(len(one), one.startswith(wanted[:MB])) for one in originals(site)]
            partials = [(one.name, one.stat().st_size) for one in (site.data / "uploads").iterdir()]
            pytest.fail(f"{len(wanted)} bytes; there: {there}; arriving: {partials}")
        time.sleep(0.1)


def make(site: Site) -> None:
    """What the media worker does with the jobs that wait, without a broker in between."""
    code = "from reviews.models import MediaJob; from reviews.intake.making import attempt;"
    code += "[attempt(job.pk) for job in MediaJob.objects.filter(state='queued')]"
    site.manage("shell", "-v0", "-c", code)
