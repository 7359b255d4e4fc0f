"""The backup file: a tar of the database as SQLite, every stored file, and a list of it all.

The list comes last, so that a file without one was cut short. Whatever database the club runs on,
the backup holds SQLite: it can be restored to either kind.
"""

import hashlib
import io
import json
import os
import tarfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Any

from coachdesk.common.errors import Conflict

DATABASE, MEDIA, KEY, LIST = "database.sqlite3", "media/", "secret-key", "list.json"
FORMAT = 1
BLOCK = 1 << 20


class _Counted(io.RawIOBase):
    """Passes a file through and remembers its SHA-256."""

    def __init__(self, source: IO[bytes]) -> None:
        self._source = source
        self.digest = hashlib.sha256()

    def read(self, size: int | None = -1) -> bytes:
        block = self._source.read(BLOCK if size is None or size < 0 else size)
        self.digest.update(block)
        return block


class Writer:
    def __init__(self, tar: tarfile.TarFile) -> None:
        self._tar = tar
        self.members: dict[str, dict[str, Any]] = {}

    def add(self, name: str, source: IO[bytes], size: int) -> None:
        info = tarfile.TarInfo(name)
        info.size, info.mode = size, 0o600
        counted = _Counted(source)
        self._tar.addfile(info, counted)
        self.members[name] = {"size": size, "sha256": counted.digest.hexdigest()}

    def close(self, **more: Any) -> None:
        told = {"format": FORMAT, **more, "members": self.members}
        body = json.dumps(told, indent=1).encode()
        info = tarfile.TarInfo(LIST)
        info.size, info.mode = len(body), 0o600
        self._tar.addfile(info, io.BytesIO(body))


@contextmanager
def writing(path: Path) -> Iterator[Writer]:
    """A new backup file, readable by its owner alone; it has its name only once it is whole."""
    if path.exists():
        raise Conflict(f"{path} is there already. Nothing was written.")
    part = path.with_name(f"{path.name}.part")
    descriptor = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    try:
        with os.fdopen(descriptor, "wb") as file:
            with tarfile.open(fileobj=file, mode="w") as tar:
                yield Writer(tar)
            file.flush()
            os.fsync(file.fileno())
        part.rename(path)
    finally:
        part.unlink(missing_ok=True)


def read_list(path: Path) -> dict[str, Any]:
    """The list of a backup, after every member was compared with it. Raises Conflict."""
    found: dict[str, dict[str, Any]] = {}
    told: dict[str, Any] | None = None
    try:
        for info, source in members(path):
            if info.name == LIST:
                told = json.loads(source.read())
                continue
            counted = _Counted(source)
            while counted.read():
                pass
            found[info.name] = {"size": info.size, "sha256": counted.digest.hexdigest()}
    except (tarfile.TarError, EOFError) as error:
        raise Conflict(f"{path} is damaged: {error}. Nothing was changed.") from error
    if told is None:
        raise Conflict(f"{path} was cut short: its list is missing. Nothing was changed.")
    if told.get("format") != FORMAT:
        raise Conflict(f"{path} is of a format this version does not read. Nothing was changed.")
    wrong = [name for name in told["members"] if found.get(name) != told["members"][name]]
    if wrong or len(found) != len(told["members"]):
        raise Conflict(f"{path} is damaged, e.g. {wrong[:1]}. Nothing was changed.")
    return told


def members(path: Path) -> Iterator[tuple[tarfile.TarInfo, IO[bytes]]]:
    """Each member once, in order, with a file to read it from."""
    with tarfile.open(path, mode="r:") as tar:
        for info in tar:
            source = tar.extractfile(info)
            if source is not None:
                yield info, source
