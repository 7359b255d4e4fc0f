"""A request's body: whole for a page, block by block for an upload, never without end."""

import asyncio
import io
from collections.abc import AsyncIterator, Awaitable, Callable
from concurrent.futures import CancelledError
from contextlib import suppress
from typing import Any

from coachdesk.server import server_limits

BLOCK = 1024 * 1024
STORE_SECONDS = 2.0  # a slow upload is handed on after this time, however little has come

Receive = Callable[[], Awaitable[Any]]


class ClientGone(Exception):
    """The client went away."""


class TooSlow(Exception):
    """The client is there and sends next to nothing."""


class Body:
    """The pieces of a body as the server receives them."""

    def __init__(self, receive: Receive, seconds: float) -> None:
        self.is_whole = False  # the last piece has come
        self.is_over = False  # no piece will come any more: it is whole, or given up
        self._receive = receive
        self._seconds = seconds
        self._missing = server_limits.PORTION_BYTES
        self._until = asyncio.get_running_loop().time() + seconds

    async def piece(self, by: float | None = None) -> bytes:
        """What came next; nothing if nothing came `by` that time. Raises ClientGone and TooSlow."""
        try:
            async with asyncio.timeout_at(self._until if by is None else min(by, self._until)):
                message = await self._receive()
        except TimeoutError as late:
            if asyncio.get_running_loop().time() < self._until:
                return b""
            self.is_over = True
            raise TooSlow from late
        if message["type"] == "http.disconnect":
            self.is_over = True
            raise ClientGone
        piece: bytes = message.get("body", b"")
        self.is_whole = self.is_over = not message.get("more_body", False)
        self._missing -= len(piece)
        if self._missing <= 0:
            self._missing = server_limits.PORTION_BYTES
            self._until = asyncio.get_running_loop().time() + self._seconds
        return piece

    async def pieces(self) -> AsyncIterator[bytes]:
        while not self.is_over:
            yield await self.piece()

    async def gone(self) -> None:
        """Return when the client has gone away; only once the body is over."""
        while (await self._receive())["type"] != "http.disconnect":
            pass

    async def drain(self, *, seconds: float, most: int) -> None:
        """Read on for a moment: a connection that is closed over unread bytes loses its answer."""
        with suppress(TimeoutError, TooSlow, ClientGone):
            async with asyncio.timeout(seconds):
                async for piece in self.pieces():
                    most -= len(piece)
                    if most < 0:
                        return


class BlockReader(io.IOBase):
    """`wsgi.input` of an upload: a thread reads blocks that the event loop collects ahead.

    A cut, and a client that is too slow, end the body early and raise nothing: what came counts.
    (Reading by lines, which WSGI asks for, is IOBase's own.)
    """

    def __init__(self, body: Body) -> None:
        self._loop = asyncio.get_running_loop()
        self._body = body
        self._rest = b""
        self._ahead: asyncio.Task[bytes] | None = asyncio.create_task(self._collect())

    def read(self, size: int) -> bytes:
        """Called in a thread: at most `size` bytes, and at least one until the end."""
        if not self._rest:
            waiting = asyncio.run_coroutine_threadsafe(self._next(), self._loop)
            try:
                self._rest = waiting.result()
            except CancelledError:  # the server stops
                return b""
        block, self._rest = self._rest[:size], self._rest[size:]
        return block

    async def stop(self) -> None:
        """In the event loop: read no further; a thread that waits is told that this is the end."""
        if self._ahead is not None:
            self._ahead.cancel()
            await asyncio.wait([self._ahead])

    async def _next(self) -> bytes:
        if self._ahead is None:
            return b""
        await asyncio.wait([self._ahead])
        block = b"" if self._ahead.cancelled() else self._ahead.result()
        self._ahead = asyncio.create_task(self._collect()) if block else None
        return block

    async def _collect(self) -> bytes:
        """A block, or what came of it in a moment; empty at the end, and after it."""
        pieces, length, hand_on = [], 0, None
        time = asyncio.get_running_loop().time
        with suppress(ClientGone, TooSlow):
            while length < BLOCK and not self._body.is_over:
                pieces.append(await self._body.piece(hand_on))
                length += len(pieces[-1])
                if hand_on is None and length:
                    hand_on = time() + STORE_SECONDS
                elif hand_on is not None and time() > hand_on:
                    break
        return b"".join(pieces)
