"""The desk with ten submissions against the desk with a hundred thousand.

Two processes (`python -m coachdesk.benchmarks.desk_page WAITING ANSWERED`), each with a SQLite
database of its own that goes away with it, render the page turn by turn on being asked. Each fills
its database and then begins anew, since a server did not write all that it reads: the heap that the
writing left behind made the page slower than anybody sees it. Both show ten lines: what is compared
is finding and counting them, not drawing five times as many.
"""

import json
import os
import statistics
import subprocess
import sys
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from tempfile import TemporaryDirectory
from typing import Any
from unittest.mock import patch

from coachdesk.benchmarks.figures import Row, seconds
from coachdesk.common.paths import CHECKOUT

# Waiting, answered. The small one has some answers too: without them there is no pace to read.
SMALL, BIG = (10, 10), (2_000, 100_000)
LINES = 10
PAIRS = 25


def rows() -> list[Row]:
    with ExitStack() as stack:
        # Begun together, so that they are built side by side.
        small, big = (stack.enter_context(_desk(*size)) for size in (SMALL, BIG))
        counts = [desk.ask("statements") for desk in (small, big)]
        pairs = [(big.ask("page"), small.ask("page")) for _ in range(PAIRS)]
    ratio = statistics.median(ours / theirs for ours, theirs in pairs)
    theirs = statistics.median(of for _, of in pairs) * 1000
    against = f"10 waiting, {theirs:.0f} ms; here 2,000 + 100,000 answered + 200,000 notes"
    shown = f"{against}; both show {LINES} lines"
    few, many = counts
    return [
        Row(name="desk.statements", value=many / few, unit="ratio",
            against=f"the same desk with 10 waiting: {few:.0f} statements", runs=1),
        Row(name="desk.page", value=round(ratio, 4), unit="ratio", against=shown, runs=PAIRS),
    ]  # fmt: skip


class _Asked:
    """A process that holds one desk."""

    def __init__(self, process: Any) -> None:
        self._process = process

    def ask(self, what: str) -> float:
        self._process.stdin.write(f"{what}\n")
        self._process.stdin.flush()
        said = self._process.stdout.readline()
        if not said:
            raise RuntimeError("The desk's process ended; its error is above.")
        return float(json.loads(said))


@contextmanager
def _desk(waiting: int, answered: int) -> Iterator[_Asked]:
    with TemporaryDirectory(prefix="bench-desk-") as data:
        environment = {
            **os.environ,
            "COACHDESK_DATA": data,
            "COACHDESK_DATABASE_URL": f"sqlite:///{data}/bench.sqlite3",
            "COACHDESK_STATIC_STORAGE": "django.contrib.staticfiles.storage.StaticFilesStorage",
            "COACHDESK_LOG": "ERROR",
            "DJANGO_SETTINGS_MODULE": "coachdesk.settings",
        }
        command = [
            sys.executable,
            "-m",
            "coachdesk.benchmarks.desk_page",
            str(waiting),
            str(answered),
        ]
        pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "text": True}
        process: Any = subprocess.Popen(command, env=environment, cwd=CHECKOUT, **pipes)  # type: ignore[call-overload]
        try:
            yield _Asked(process)
        finally:
            process.stdin.close()
            process.wait(60)


def _fill(waiting: int, answered: int) -> int:
    """The database of this process; the coach to sign in as."""
    from django.core.management import call_command
    from django.db import connections

    from coachdesk.benchmarks.desk_data import club_with

    call_command("migrate", verbosity=0)
    coach = club_with(waiting, answered)
    connections.close_all()
    return coach.pk


def _answer(coach: int) -> None:
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    from athletes.models import User

    client = Client(HTTP_HOST="localhost")
    client.force_login(User.objects.get(pk=coach))

    def page() -> None:
        shown = client.get("/desk/").content.count(b'id="line-')
        if shown != LINES:
            raise AssertionError(f"{shown} lines instead of {LINES}")

    with patch("reviews.desk.views.LINES_A_PAGE", LINES):
        page()  # templates are read once, as in a running server
        for asked in sys.stdin:
            if asked.strip() == "page":
                found = seconds(page)
            else:
                with CaptureQueriesContext(connection) as captured:
                    page()
                found = len(captured)
            print(json.dumps(found), flush=True)


def _main() -> None:
    import django

    django.setup()
    match [int(word) for word in sys.argv[1:]]:
        case [waiting, answered]:
            again = [sys.executable, "-m", "coachdesk.benchmarks.desk_page"]
            os.execv(sys.executable, [*again, str(_fill(waiting, answered))])
        case [coach]:
            _answer(coach)


if __name__ == "__main__":
    _main()
