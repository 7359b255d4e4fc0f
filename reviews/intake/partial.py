"""The bytes of an upload that is still arriving, and who may add to them.

The file's own size is the offset: it can only be what was stored. Writers take turns by a token
kept beside the file. Whoever comes takes the turn, and a writer looks under the file's lock,
before every block, whether the turn is still its own. So a connection that died without a word,
and sits in a read that never ends, needs nobody to wait for it: its next block is refused.
"""

import fcntl
import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from uuid import UUID

from django.conf import settings


class TakenOver(Exception):
    """Another connection has the turn, or the upload is gone. Nothing more was written."""


@contextmanager
def locked(path: Path, flags: int) -> Iterator[int]:
    """An open descriptor under an exclusive lock, which the system drops if we are killed."""
    descriptor = os.open(path, flags, 0o600)
    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX)
        yield descriptor
    finally:
        os.close(descriptor)


def settle(folder: Path) -> None:
    """Make new names in a folder durable; without it a power cut may forget the file."""
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


class Partial:
    def __init__(self, upload_id: UUID) -> None:
        folder = Path(settings.UPLOAD_DIR)
        self.path = folder / upload_id.hex
        self.turn_path = folder / f"{upload_id.hex}.turn"

    def create(self) -> None:
        self.path.parent.mkdir(parents=True, exist_ok=True)
        self.path.touch(mode=0o600, exist_ok=False)
        settle(self.path.parent)

    @property
    def exists(self) -> bool:
        return self.path.exists()

    def stored(self) -> int:
        """Bytes that are safe on disk. Raises FileNotFoundError once the file has moved on."""
        descriptor = os.open(self.path, os.O_RDONLY)
        try:
            size = os.fstat(descriptor).st_size
            os.fsync(descriptor)
            return size
        finally:
            os.close(descriptor)

    def take_turn(self) -> "Turn":
        """Ask whoever is writing to stop. Raises TakenOver when there is no file to write to."""
        token = secrets.token_bytes(16)
        try:
            with locked(self.path, os.O_RDWR):
                self.turn_path.write_bytes(token)
        except FileNotFoundError as gone:
            raise TakenOver from gone
        return Turn(self, token)

    def drop(self) -> None:
        """Remove the bytes; a writer under way finds its turn gone at its next block."""
        for path in (self.turn_path, self.path, *self.path.parent.glob(f"{self.path.name}.held-*")):
            path.unlink(missing_ok=True)


class Turn:
    """The right to add to one partial file, until somebody else takes it."""

    def __init__(self, partial: Partial, token: bytes) -> None:
        self.partial = partial
        self.token = token

    @contextmanager
    def held(self) -> Iterator[int]:
        """The file, locked, while the turn is ours. Raises TakenOver."""
        try:
            with locked(self.partial.path, os.O_RDWR) as descriptor:
                if self.partial.turn_path.read_bytes() != self.token:
                    raise TakenOver
                yield descriptor
        except FileNotFoundError as gone:
            raise TakenOver from gone

    def append(self, block: bytes, at: int) -> int:
        """Store `block` at offset `at`, the end of the file; the new end. Raises TakenOver.

        A write that runs out of disk part-way keeps what it wrote: it is in the right place.
        """
        with self.held() as descriptor:
            if os.fstat(descriptor).st_size != at:
                raise TakenOver
            rest = memoryview(block)
            while rest:
                written = os.pwrite(descriptor, rest, at)
                at, rest = at + written, rest[written:]
        return at

    def hold_back(self) -> Path:
        """A file for bytes that may not count until their checksum has been seen."""
        return self.partial.path.with_name(f"{self.partial.path.name}.held-{self.token.hex()}")
