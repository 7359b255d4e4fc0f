"""What `manage.py doctor` looks at: parts, versions, migrations, and files against rows."""

import hashlib
import platform
import random
import sqlite3
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass

import django
from celery import __version__ as celery_version
from django.core.files.storage import default_storage
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from coachdesk.common.file_modes import files_open_to_others
from coachdesk.common.paths import DATA
from coachdesk.ops.backup import stored_files
from coachdesk.ops.health import PARTS, state_of
from reviews.intake.jobs import waiting_for_machine
from reviews.intake.models import Clip
from reviews.intake.models.clip import folder_of
from reviews.media.plan import RECIPE
from reviews.media.tools import ffmpeg_exe

BLOCK = 1 << 20
NAMED = 5  # of many alike, so many are named


@dataclass(frozen=True)
class Finding:
    well: bool
    subject: str
    said: str


def findings(*, sample: int) -> Iterator[Finding]:
    """Every finding in turn; `sample` originals are read whole and compared with their checksum."""
    yield from _parts()
    yield _file_modes()
    yield Finding(True, "versions", _versions())
    executor = MigrationExecutor(connection)
    waiting = executor.migration_plan(executor.loader.graph.leaf_nodes())
    names = [f"{step.app_label}.{step.name}" for step, _ in waiting]
    if names:
        yield Finding(False, "migrations", f"not applied: {some(names)}. Run manage.py upgrade")
        return  # the rows cannot be read before
    yield Finding(True, "migrations", "all applied")
    yield _waiting()
    yield from _files(sample)


def _parts() -> Iterator[Finding]:
    for name in PARTS:
        state = state_of(name)
        yield Finding(state == "ok", name, "answers" if state == "ok" else state)


def _file_modes() -> Finding:
    names = [str(path.relative_to(DATA.parent)) for path in files_open_to_others(DATA)]
    well = "other accounts of this machine cannot read the data folder"
    unwell = "can be read by other accounts of this machine"
    return _none(names, "privacy", well, f"{unwell}; manage.py upgrade closes what it may")


def _waiting() -> Finding:
    faults = sorted(set(waiting_for_machine().values_list("fault", flat=True)))
    return _none(faults, "machine", "no clip waits for it", "lacking, and clips wait for it")


def _versions() -> str:
    told = {
        "Python": platform.python_version(),
        "Django": django.get_version(),
        "Celery": celery_version,
        "ffmpeg": _ffmpeg_version(),
        "recipe": str(int(RECIPE)),
        connection.display_name: _database_version(),
    }
    return ", ".join(f"{name} {version}" for name, version in told.items())


def _ffmpeg_version() -> str:
    done = subprocess.run([ffmpeg_exe(), "-version"], capture_output=True, text=True, timeout=20)
    return done.stdout.partition("version ")[2].partition(" ")[0]


def _database_version() -> str:
    if connection.vendor == "sqlite":
        return sqlite3.sqlite_version
    return ".".join(map(str, connection.get_database_version()))


def _files(sample: int) -> Iterator[Finding]:
    stored = set(stored_files(default_storage))
    rows = list(Clip.objects.values_list("original", "sha256", "recipe", "made"))
    wanted = {name for clip in rows for name in _files_of(*clip)}
    yield _none(sorted(wanted - stored), "files", "all there", "missing")
    folders = {folder_of(sha256) for _, sha256, _, _ in rows if sha256}
    originals = {original for original, _, _, _ in rows}
    orphans = [name for name in stored if not _is_known(name, originals, folders)]
    yield _none(sorted(orphans), "orphans", "every file belongs to a clip", "belong to no clip")
    kept = sorted((original, sha256) for original, sha256, _, _ in rows if original in stored)
    chosen = random.sample(kept, min(sample, len(kept)))
    bent = sorted(name for name, sha256 in chosen if _digest(name) != sha256)
    yield _none(
        bent, "checksums", f"{len(chosen)} originals read, all as uploaded", "not as uploaded"
    )


def _files_of(original: str, sha256: str, recipe: int | None, made: dict | None) -> list[str]:
    derived = made["files"].values() if made else []
    return [original] * bool(original) + [f"{folder_of(sha256)}/{recipe}/{it}" for it in derived]


def _is_known(name: str, originals: set[str], folders: set[str]) -> bool:
    """Derived files of an older recipe, and what stands beside them, belong to their clip."""
    return name in originals or name.rsplit("/", 2)[0] in folders


def _digest(name: str) -> str:
    digest = hashlib.sha256()
    with default_storage.open(name) as file:
        while block := file.read(BLOCK):
            digest.update(block)
    return digest.hexdigest()


def _none(names: list[str], subject: str, well: str, unwell: str) -> Finding:
    if not names:
        return Finding(True, subject, well)
    return Finding(False, subject, f"{len(names)} {unwell}: {some(names)}")


def some(names: list[str]) -> str:
    more = ["…"] if len(names) > NAMED else []
    return ", ".join([*names[:NAMED], *more])
