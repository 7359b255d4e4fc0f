"""What the documents say is what ships."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
# Switches of development, which nobody who runs a club should turn.
UNTOLD = {"COACHDESK_DEBUG", "COACHDESK_STATIC_STORAGE"}


def test_every_setting_is_told() -> None:
    told = set(re.findall(r"`(COACHDESK_[A-Z_]+)`", (ROOT / "docs" / "running.md").read_text()))
    source = [ROOT / "coachdesk" / name for name in ("settings.py", "common/paths.py")]
    read = {
        name
        for path in [*source, ROOT / "reviews" / "media" / "tools.py"]
        for name in re.findall(r'"(COACHDESK_[A-Z_]+)"', path.read_text())
    }
    assert told == read - UNTOLD


PAGES = [
    "README.md",
    "DEVELOPERS.md",
    "CONTRIBUTING.md",
    "SECURITY.md",
    "docs/running.md",
    "docs/deploy.md",
]


@pytest.mark.parametrize("page", PAGES)
def test_links_and_pictures_exist(page: str) -> None:
    path = ROOT / page
    for target in re.findall(r"\]\((?!https?:)([^)#]+)\)", path.read_text()):
        assert (path.parent / target).exists(), f"{page} points to {target}"


def test_paths_that_developers_are_sent_to_exist() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text()
    paths = re.findall(r"`((?:athletes|bin|coachdesk|programming|reviews|tests)/[\w./-]*)`", text)
    assert len(paths) > 15
    for name in paths:
        assert (ROOT / name).exists(), f"DEVELOPERS.md names {name}"


def test_no_lock_holds_a_download_address() -> None:
    for lock in [*(ROOT / "requirements").glob("*.txt"), ROOT / "package-lock.json"]:
        text = lock.read_text()
        assert "--index-url" not in text
        assert "--find-links" not in text
        assert '"resolved"' not in text
