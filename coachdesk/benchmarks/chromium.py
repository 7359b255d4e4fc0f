"""The browser that tests and figures use: the system's own Chromium, started for one job only."""

import os
import shutil

# The one without windows of its own first: its pages are the same, it starts and ends sooner.
NAMES = ["chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"]
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # What a new window makes ready beside our page: the address bar's own pages, a process to
    # come. Half of what it costs, and in the middle of what is timed.
    "--disable-features=WebUIOmniboxPopup,WebUIOmniboxAimPopup,SpareRendererForSitePerProcess",
]


def chromium_path() -> str:
    """Raises RuntimeError where there is none. COACHDESK_CHROMIUM names another one."""
    named = os.environ.get("COACHDESK_CHROMIUM")
    found = named or next((path for name in NAMES if (path := shutil.which(name))), None)
    if not found:
        raise RuntimeError("Chromium is missing: install the system's `chromium` package.")
    return found
