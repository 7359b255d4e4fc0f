"""An answer on its way out: read in a thread block by block, sent from the event loop."""

import asyncio
import json
from collections.abc import Awaitable, Callable
from concurrent.futures import Executor
from http import HTTPStatus
from typing import Any

from coachdesk.server.request_body import BlockReader, Body
from coachdesk.server.wsgi_call import WsgiCall

Send = Callable[[Any], Awaitable[None]]
RETRY_SECONDS = 5
# Read on after a refusal, or the client loses the answer with the connection.
DRAIN_SECONDS = 2.0
DRAIN_BYTES = 16 * 1024**2


async def begin(call: WsgiCall, threads: Executor, reader: BlockReader | None = None) -> bytes:
    """The first block of the answer; `reader` is what the call reads the body with by itself."""
    try:
        return await asyncio.get_running_loop().run_in_executor(threads, call.begin)
    finally:
        if reader is not None:
            await reader.stop()


async def send_answer(
    call: WsgiCall, block: bytes, threads: Executor, body: Body, send: Send
) -> None:
    """Send `block` and what follows it. The call's end (`close`) comes when all of it was sent."""
    loop = asyncio.get_running_loop()
    try:
        headers = [
            (name.lower().encode(), value.strip().encode("latin-1")) for name, value in call.headers
        ]
        await _start(call.status, headers, body, send)
        if call.has_ended:
            await _finish(block, body, send)
            return
        gone = asyncio.create_task(body.gone())
        try:
            while not gone.done():
                await send({"type": "http.response.body", "body": block, "more_body": True})
                if call.has_ended:
                    break
                block = await loop.run_in_executor(threads, call.block)
            else:
                return
        finally:
            gone.cancel()
        await _finish(b"", body, send)
    finally:
        await loop.run_in_executor(threads, call.close)


async def send_refusal(
    status: int, sentence: str, asked: dict[bytes, bytes], body: Body, send: Send
) -> None:
    """A problem (RFC 9457) for programs and scripts, the sentence alone for a page."""
    if b"text/html" in asked.get(b"accept", b""):
        kind, content = b"text/plain; charset=utf-8", sentence.encode()
    else:
        kind = b"application/problem+json"
        title = HTTPStatus(status).phrase
        content = json.dumps({"title": title, "status": status, "detail": sentence}).encode()
    headers = [
        (b"content-type", kind),
        (b"content-length", str(len(content)).encode()),
        (b"cache-control", b"no-store"),
    ]
    if status in {HTTPStatus.SERVICE_UNAVAILABLE, HTTPStatus.TOO_MANY_REQUESTS}:
        headers.append((b"retry-after", str(RETRY_SECONDS).encode()))
    await _start(status, headers, body, send)
    await _finish(content, body, send)


async def _start(status: int, headers: list[tuple[bytes, bytes]], body: Body, send: Send) -> None:
    if not body.is_whole:
        headers = [*headers, (b"connection", b"close")]
    await send({"type": "http.response.start", "status": status, "headers": headers})


async def _finish(last: bytes, body: Body, send: Send) -> None:
    if not body.is_over:
        await send({"type": "http.response.body", "body": last, "more_body": True})
        await body.drain(seconds=DRAIN_SECONDS, most=DRAIN_BYTES)
        last = b""
    await send({"type": "http.response.body", "body": last})
