"""Load summaries against vectorised pandas on the same database, and one set against a history.

Everything runs in processes of its own (`python -m coachdesk.benchmarks.load_summaries WHAT`),
whose settings name a data folder that goes away with it: each whole computation in a fresh one, for
its peak memory.
"""

import json
import os
import resource
import statistics
import subprocess
import sys
from collections.abc import Callable
from tempfile import TemporaryDirectory
from typing import Any

from coachdesk.benchmarks.figures import Row, paired_ratio, seconds
from coachdesk.common.paths import CHECKOUT

ATHLETES, WEEKS = 500, 156
SHORT, LONG = 13, 313  # weeks of history: three months, six years
PAIRS = 3
SETS_CHANGED = 15
SCRATCHES = 3
FROM_NOTHING = "6 years of maxes and summaries made from nothing"


def rows() -> list[Row]:
    with TemporaryDirectory(prefix="bench-load-") as data:
        _child("build", data)
        pairs = [(_child("ours", data), _child("pandas", data)) for _ in range(PAIRS)]
        one = _child("one", data)
    against = f"pandas, {ATHLETES} athletes x 3 years"
    full = statistics.median(ours["seconds"] / theirs["seconds"] for ours, theirs in pairs)
    memory = statistics.median(ours["bytes"] / theirs["bytes"] for ours, theirs in pairs)
    return [
        _row("load.full", full, against, PAIRS),
        _row("load.memory", memory, against, PAIRS),
        _row("load.one_set", one["set"], "3 months of history; 6 years", SETS_CHANGED),
        _row("load.one_set_share", one["share"], FROM_NOTHING, SCRATCHES),
        _row("file.page", one["page"], "3 months of history; 6 years", SETS_CHANGED),
    ]


def _row(name: str, value: float, against: str, runs: int) -> Row:
    return Row(name=name, value=round(value, 4), unit="ratio", against=against, runs=runs)


def _child(what: str, data: str) -> dict[str, float]:
    environment = {
        **os.environ,
        "COACHDESK_DATA": data,
        "COACHDESK_DATABASE_URL": f"sqlite:///{data}/bench.sqlite3",
        "COACHDESK_STATIC_STORAGE": "django.contrib.staticfiles.storage.StaticFilesStorage",
        "COACHDESK_LOG": "ERROR",
        "DJANGO_SETTINGS_MODULE": "coachdesk.settings",
    }
    done = subprocess.run(
        [sys.executable, "-m", "coachdesk.benchmarks.load_summaries", what],
        env=environment, cwd=CHECKOUT, stdout=subprocess.PIPE, check=True,
    )  # fmt: skip
    found: dict[str, float] = json.loads(done.stdout.splitlines()[-1])
    return found


def _timed(work: Callable[[], object]) -> dict[str, float]:
    return {
        "seconds": seconds(work),
        "bytes": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024.0,
    }


def _build() -> dict[str, float]:
    from django.core.management import call_command

    from coachdesk.benchmarks.training_log_data import take_statistics, write_log

    call_command("migrate", verbosity=0)
    write_log(_people("many", ATHLETES), WEEKS)
    write_log(_people("long", 1), LONG)
    write_log(_people("short", 1), SHORT)
    take_statistics()
    return {}


def _people(name: str, count: int) -> list[Any]:
    from athletes.models import Club, Role, User

    club, _ = Club.objects.get_or_create(name="Bench")
    User.objects.bulk_create(
        User(email=f"{name}{n}@example.org", name=f"{name} {n}", club=club) for n in range(count)
    )
    if name == "long":
        User.objects.create_user("coach@example.org", name="Coach", club=club, role=Role.COACH)
    return list(User.objects.filter(email__startswith=name).order_by("pk"))


def _ours() -> dict[str, float]:
    from athletes.models import User
    from programming.logs.services.summarize_days import rebuild_summaries

    people = list(User.objects.filter(email__startswith="many").values_list("pk", flat=True))
    return _timed(lambda: rebuild_summaries(sorted(people)))


def _pandas() -> dict[str, float]:
    from django.conf import settings

    try:
        from coachdesk.benchmarks.load_by_pandas import rebuild
    except ImportError as gone:
        sys.exit(f"{gone}: this figure compares with pandas, which requirements/test.txt brings.")
    return _timed(lambda: rebuild(settings.DATABASES["default"]["NAME"], ATHLETES))


def _one() -> dict[str, float]:
    """The row of a dirty day is there; timed is what a worker does with it: maxes, summaries."""
    from django.test import Client

    from athletes.models import User

    long, short, coach = (
        User.objects.get(email=f"{name}@example.org") for name in ("long0", "short0", "coach")
    )
    client = Client(headers={"host": "localhost"})
    client.force_login(coach)
    _scratch(short)
    scratches = [_scratch(long) for _ in range(SCRATCHES)]
    pages = _page(client, long), _page(client, short)
    changes = _change(long), _change(short)
    for work in (*pages, *changes):
        work()  # once unmeasured: caches of templates and statements
    one_set = statistics.median(seconds(changes[0]) for _ in range(SETS_CHANGED))
    return {
        "set": paired_ratio(*changes, SETS_CHANGED),
        "share": one_set / statistics.median(scratches),
        "page": paired_ratio(*pages, SETS_CHANGED),
    }


def _scratch(athlete: Any) -> float:
    """Seconds for all that is derived of this athlete, where nothing of it stands."""
    from programming.logs.models import DaySummary, DirtyDay, MaxRecord, MaxSource
    from programming.logs.services import refresh_maxes, summarize_days

    MaxRecord.objects.filter(athlete=athlete, source=MaxSource.ESTIMATE).delete()
    DaySummary.objects.filter(athlete=athlete).delete()

    def work() -> None:
        refresh_maxes.rebuild_maxes(athlete=athlete)
        summarize_days.rebuild_summaries([athlete.pk])

    taken = seconds(work)
    DirtyDay.objects.filter(athlete=athlete).delete()  # all of it was just made
    return taken


def _change(athlete: Any) -> Callable[[], object]:
    from programming.logs.models import DirtyDay, LoggedSession
    from programming.logs.services import summarize_days

    last = LoggedSession.objects.filter(athlete=athlete).latest("day").day

    def work() -> None:
        DirtyDay.objects.create(athlete=athlete, day=last)
        summarize_days.summarize_dirty_days(athlete.pk)

    return work


def _page(client: Any, athlete: Any) -> Callable[[], object]:
    from django.urls import reverse

    paths = [reverse(name, args=[athlete.pk]) for name in ("athlete-file", "athlete-load")]

    def work() -> None:
        for path in paths:
            answer = client.get(path)
            assert answer.status_code == 200, f"{path}: {answer.status_code}"

    return work


def _main(what: str) -> None:
    import django

    django.setup()
    work = {"build": _build, "ours": _ours, "pandas": _pandas, "one": _one}[what]
    print(json.dumps(work()))


if __name__ == "__main__":
    _main(sys.argv[1])
