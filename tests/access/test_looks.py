"""Every page a person can open is looked at in the browser (tests/browser/test_axe.py)."""

from tests.access.routes import routes
from tests.access.table import ADMIN, TABLE
from tests.browser.pages import every_look

# Answer 200 to a GET, and are no page of their own.
NO_PAGES = {
    "health-live": "JSON",
    "health-ready": "JSON",
    "mfa_download_recovery_codes": "a text file",
    "clip-media": "a file of a clip",
    "training-worker": "a script",
    "reply-cue": "a part of the training page",
    "calendar-feed": "an iCalendar file",
    "log-export": "a CSV file",
    "athlete-log-export": "a CSV file",
    "reply-track": "a text track of a clip",
    "asked-back": "a part of the desk",
    "what-works": "a part of a fault's page",
    "athlete-faults": "a part of the athlete file",
    "load-faults": "a part of the load page",
    "coming-sessions": "a part of the workbench",
    "submission-clips": "a part of the submission page",
}


def test_every_page_is_looked_at() -> None:
    pages = {
        row.route
        for row in TABLE
        if row.method == "GET"
        and 200 in row.expected.values()
        and row.content_type != "application/json"
    }
    looked_at = {look.route for look in every_look()}
    assert pages - set(NO_PAGES) - looked_at == set(), "pages that axe does not see"


def test_looks_name_routes_that_exist() -> None:
    here = {name for name, _ in routes() if not name.startswith(f"{ADMIN}:")}
    assert {look.route for look in every_look()} - here == set()


def test_the_exceptions_are_still_there() -> None:
    assert {row.route for row in TABLE} >= set(NO_PAGES)
