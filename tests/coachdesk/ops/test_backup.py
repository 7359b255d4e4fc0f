"""Backup while others write, restore elsewhere, and an upgrade that fails."""

import hashlib
import os
import shutil
import sqlite3
import subprocess
import sys
import tarfile
import threading
from pathlib import Path

import psycopg
import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.management import CommandError, call_command
from django.db import connection, connections
from django.db.migrations.recorder import MigrationRecorder

from athletes.mail.models import Mail
from athletes.mail.services import enqueue_text
from athletes.models import Club
from coachdesk.common.errors import Conflict
from coachdesk.ops import archive
from coachdesk.ops.backup import stored_files, write_backup
from coachdesk.ops.copy_rows import digest_of, move_database, tables
from coachdesk.ops.other_database import make_tables, other_database
from coachdesk.ops.upgrade import upgrade
from reviews.intake.models import Clip, Submission
from tests.access.world import build_world
from tests.test_docs import ROOT

pytestmark = pytest.mark.django_db(transaction=True)


def keep(content: bytes, submission: Submission) -> Clip:
    """A clip with an original, in the order an upload has: the file, then the row."""
    sha256 = hashlib.sha256(content).hexdigest()
    name = default_storage.save(f"originals/{sha256[:2]}/{sha256}.mp4", ContentFile(content))
    size = len(content)
    return Clip.objects.create(submission=submission, original=name, sha256=sha256, size=size)


class Busy(threading.Thread):
    """Somebody who uploads one clip after another."""

    def __init__(self, submission: Submission) -> None:
        super().__init__(daemon=True)
        self.submission, self.stop, self.written = submission, threading.Event(), 0

    def run(self) -> None:
        while not self.stop.is_set():
            keep(f"clip {self.written}".encode() * 1000, self.submission)
            self.written += 1
        connections.close_all()


def test_a_backup_holds_no_mail_that_opens_a_door(cast, other_databases, tmp_path: Path) -> None:
    link = "https://club.example/join/4fd1c0ffee/"
    sent, waiting = (
        enqueue_text(to="a@example.org", subject="Join", body=f"{n} {link}") for n in "ab"
    )
    sent.delete()
    write_backup(tmp_path / "backup.tar")
    assert Mail.objects.get() == waiting
    assert link.encode() not in (tmp_path / "backup.tar").read_bytes()


def test_a_backup_while_somebody_writes_is_whole_and_comes_back(
    cast, other_databases, empty: str, tmp_path: Path
) -> None:
    """Restored to PostgreSQL with every row and file; each row's file is the one it names."""
    build_world(cast.athlete, cast.coach)
    submission = Submission.objects.create(club=cast.athlete.club, athlete=cast.athlete)
    keep(b"before" * 5000, submission)
    busy = Busy(submission)
    busy.start()
    while busy.written < 3:
        busy.join(0.01)
    write_backup(tmp_path / "club.tar")
    after = busy.written
    busy.stop.set()
    busy.join(30)
    assert after > 3, "nobody wrote while it was taken"

    snapshot = tmp_path / "inside.sqlite3"
    with tarfile.open(tmp_path / "club.tar") as tar:
        source = tar.extractfile(archive.DATABASE)
        assert source is not None
        snapshot.write_bytes(source.read())
    with sqlite3.connect(snapshot) as plain:
        assert plain.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        rows = plain.execute("SELECT original, sha256 FROM reviews_clip WHERE original <> ''")
        clips = [row for row in rows.fetchall() if row[0].startswith("originals/") and row[1]]
    assert len(clips) >= 4

    said = command("restore", str(tmp_path / "club.tar"), database=empty, data=tmp_path / "new")
    assert said.returncode == 0, said.stderr
    assert digests(empty) == digests(f"sqlite:///{snapshot}")
    for original, sha256 in clips:
        assert (
            hashlib.sha256((tmp_path / "new/media" / original).read_bytes()).hexdigest() == sha256
        )
    again = command("restore", str(tmp_path / "club.tar"), database=empty, data=tmp_path / "new")
    assert again.returncode == 1
    assert "not empty" in again.stderr


def command(
    *words: str, database: str, data: Path, settings: str = "coachdesk.settings"
) -> subprocess.CompletedProcess[str]:
    """manage.py on another machine, so to speak."""
    told = {"COACHDESK_DATABASE_URL": database, "COACHDESK_DATA": str(data)}
    told["DJANGO_SETTINGS_MODULE"] = settings
    return subprocess.run(
        [sys.executable, "manage.py", *words],
        cwd=ROOT,
        env={**os.environ, **told},
        capture_output=True,
        text=True,
    )


def digests(url: str) -> dict[str, tuple[int, str]]:
    """Rows and SHA-256 of their values, of each table."""
    with other_database(url) as alias:
        return {model._meta.db_table: digest_of(model, alias) for model in tables()}


def test_a_damaged_backup_is_refused_before_anything_is_written(
    cast, other_databases, tmp_path: Path
) -> None:
    default_storage.save("originals/ab/x.mp4", ContentFile(b"a lift" * 100))
    file = tmp_path / "club.tar"
    write_backup(file)
    assert file.stat().st_mode & 0o777 == 0o600
    whole = file.read_bytes()
    at = whole.index(b"a lift")
    (tmp_path / "bent.tar").write_bytes(whole[:at] + b"A" + whole[at + 1 :])
    (tmp_path / "short.tar").write_bytes(whole[: at + 700])
    archive.read_list(file)
    for name in ("bent", "short"):
        with pytest.raises(Conflict, match="Nothing was changed"):
            archive.read_list(tmp_path / f"{name}.tar")
    with pytest.raises(CommandError, match="there already"):
        call_command("backup", str(file))
    with pytest.raises(CommandError, match="not empty"):
        call_command("restore", str(file))
    assert list(stored_files(default_storage)) == ["originals/ab/x.mp4"]


def test_an_upgrade_that_fails_leaves_everything_as_it_was(
    cast, other_databases, settings, tmp_path: Path
) -> None:
    """On either database; the copy taken before has the same rows, and tells its version."""
    before = {model._meta.db_table: digest_of(model, "default") for model in tables()}
    now = settings.INSTALLED_APPS
    settings.INSTALLED_APPS = [*now, "tests.coachdesk.harmful", "tests.coachdesk.failing"]
    with pytest.raises(ValueError, match="cannot be done"):
        upgrade(folder=tmp_path / "backups")
    settings.INSTALLED_APPS = now
    assert "harmful_extra" not in connection.introspection.table_names()
    assert {model._meta.db_table: digest_of(model, "default") for model in tables()} == before
    assert not Club.objects.filter(name="Renamed by an upgrade").exists()
    recorded = set(MigrationRecorder(connection).applied_migrations())
    assert not [name for app, name in recorded if app in ("harmful", "failing")]
    (copy,) = (tmp_path / "backups").iterdir()
    assert digests(f"sqlite:///{copy}") == before
    with other_database(f"sqlite:///{copy}") as alias:
        assert set(MigrationRecorder(connections[alias]).applied_migrations()) == recorded


def test_the_copy_of_an_earlier_version_has_its_tables(
    other_databases, empty: str, tmp_path: Path
) -> None:
    """The code already knows tables and columns that this PostgreSQL does not have yet."""
    make_tables(empty, ["athletes.0001_initial"])
    with psycopg.connect(empty) as other:
        other.execute("INSERT INTO django_content_type (app_label, model) VALUES ('old', 'old')")
    said = command("upgrade", database=empty, data=tmp_path)
    assert said.returncode == 0, said.stderr
    (copy,) = (tmp_path / "backups").iterdir()
    with sqlite3.connect(copy) as plain:
        names = {name for (name,) in plain.execute("SELECT name FROM sqlite_master")}
        assert "athletes_club" in names
        assert "reviews_clip" not in names
        kept = plain.execute("SELECT app_label, model FROM django_content_type").fetchall()
        assert ("old", "old") in kept


def test_the_way_back_from_an_upgrade_that_ended_well_and_did_harm(
    cast, other_databases, empty: str, empty_too: str, tmp_path: Path
) -> None:
    """The steps of docs/deploy.md, with the commands an owner types: those for SQLite, and where
    the tests run on PostgreSQL those for that."""
    data = tmp_path / "site"
    data.mkdir()
    file = data / "coachdesk.sqlite3"
    database = f"sqlite:///{file}" if connection.vendor == "sqlite" else empty
    move_database(url=database)
    before = digests(database)

    done(command("upgrade", database=database, data=data, settings="tests.coachdesk.later"))
    assert digests(database) != before, "it did harm"
    (copy,) = (data / "backups").iterdir()
    if connection.vendor == "sqlite":
        shutil.copyfile(copy, file)
        for beside in ("-wal", "-shm"):
            Path(f"{file}{beside}").unlink(missing_ok=True)
    else:
        words = ["move_database", "--to", empty_too]
        done(command(*words, database=f"sqlite:///{copy}", data=data))
        database = empty_too

    assert digests(database) == before
    assert "of this version already" in done(command("upgrade", database=database, data=data))


def done(said: subprocess.CompletedProcess[str]) -> str:
    assert said.returncode == 0, said.stderr
    return said.stdout
