"""Bytes from a connection into a partial file, block by block."""

import errno
import hashlib
import os
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, Protocol

from django.http.request import UnreadablePostError

from reviews.intake.partial import Turn

BLOCK = 1024 * 1024
TELL_SECONDS = 2.0


class Stream(Protocol):
    def read(self, size: int, /) -> bytes: ...


class DiskFull(Exception):
    """The disk took no more. What was stored before stays, and counts."""


class Mismatch(Exception):
    """The bytes are not the ones the checksum was made of. None of them counts."""


def blocks(stream: Stream, length: int) -> Iterator[bytes]:
    """At most `length` bytes. A cut connection just ends early: whoever needs all must count."""
    while length:
        try:
            block = stream.read(min(BLOCK, length))
        except UnreadablePostError:
            return
        if not block:
            return
        length -= len(block)
        yield block


def store(turn: Turn, stream: Stream, *, at: int, length: int, tell: Callable[[int], None]) -> int:
    """Append up to `length` bytes at offset `at`, durable on return; the new offset.

    `tell` hears the offset now and then. Raises TakenOver and DiskFull.
    """
    told = time.monotonic()
    with _full_disk():
        for block in blocks(stream, length):
            at = turn.append(block, at)
            if time.monotonic() - told >= TELL_SECONDS:
                tell(at)
                told = time.monotonic()
        with turn.held() as descriptor:
            os.fsync(descriptor)
    return at


def store_checked(
    turn: Turn, stream: Stream, *, at: int, length: int, digest: Any, expected: bytes
) -> int:
    """Append `length` bytes once they have shown their checksum, or none of them. Raises Mismatch.

    They wait in a file of their own: a reader of the offset must never see bytes that are taken
    back later, nor may kill -9 leave them behind as if they counted.
    """
    held = turn.hold_back()
    try:
        with _full_disk(), held.open("w+b") as file:
            for block in blocks(stream, length):
                digest.update(block)
                file.write(block)
            if file.tell() != length or digest.digest() != expected:
                raise Mismatch
            file.seek(0)
            return store(turn, file, at=at, length=length, tell=lambda offset: None)
    finally:
        held.unlink(missing_ok=True)


@contextmanager
def _full_disk() -> Iterator[None]:
    try:
        yield
    except OSError as error:
        if error.errno in {errno.ENOSPC, errno.EDQUOT}:
            raise DiskFull from error
        raise


def sha256_of(file: Any) -> str:
    """The hexadecimal SHA-256 of an open binary file, in small memory."""
    return hashlib.file_digest(file, "sha256").hexdigest()
