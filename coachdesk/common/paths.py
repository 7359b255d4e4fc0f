"""Where things lie: the checkout, and the data folder that holds everything worth keeping."""

import json
import os
import secrets
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parent.parent.parent
DATA = Path(os.environ.get("COACHDESK_DATA", CHECKOUT / "var")).resolve()

RUNNING = DATA / "running.json"


def running_site() -> dict[str, str]:
    """`url` and `broker` of the site that `bin/run` started last on this data folder: what a
    command beside it is not told by its environment."""
    try:
        return dict(json.loads(RUNNING.read_text()))
    except (OSError, ValueError):
        return {}


def secret_key() -> str:
    """The signing key: from the environment, else made once and kept in the data folder."""
    given = os.environ.get("COACHDESK_SECRET_KEY")
    if given:
        return given
    kept = DATA / "secret-key"
    DATA.mkdir(parents=True, exist_ok=True)
    try:
        descriptor = os.open(kept, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return kept.read_text()
    key = secrets.token_urlsafe(48)
    with os.fdopen(descriptor, "w") as file:
        file.write(key)
    return key
