"""One connection: bounded in time and size wherever uvicorn's own protocol waits for ever."""

import asyncio
from typing import Any, ClassVar

from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

from coachdesk.server import server_limits


class TimedProtocol(HttpToolsProtocol):
    """Ends a connection whose headers do not come, or whose answer is not taken.

    uvicorn knows the time between two requests only.
    """

    counts_addresses: ClassVar[bool] = True  # not behind a front, where all come from one
    connections_of: ClassVar[server_limits.Share] = server_limits.Share(
        each=server_limits.CONNECTIONS_OF_ADDRESS, together=server_limits.CONNECTIONS
    )

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self._header_timer: asyncio.TimerHandle | None = None
        self._header_bytes = 0
        self._send_timer: asyncio.TimerHandle | None = None
        self._address: str | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        super().connection_made(transport)
        # Told of every byte that waits, not only of many: the last ones of an answer count as well.
        transport.set_write_buffer_limits(high=0)
        if len(self.connections) > server_limits.CONNECTIONS or not self._is_counted():
            transport.abort()
            return
        self._expect_headers()

    def connection_lost(self, exc: Exception | None) -> None:
        super().connection_lost(exc)
        self._headers_came()
        self._all_was_taken()
        self._unset_keepalive_if_required()
        if self._address is not None:
            self.connections_of.give_back(self._address)

    def data_received(self, data: bytes) -> None:
        if self._header_timer is None and (self.cycle is None or self.cycle.response_complete):
            self._expect_headers()
        super().data_received(data)
        if self._header_timer is not None:
            self._header_bytes += len(data)
            if self._header_bytes > server_limits.HEADER_BYTES:
                self.transport.abort()

    def on_headers_complete(self) -> None:
        self._headers_came()
        super().on_headers_complete()

    def pause_writing(self) -> None:
        super().pause_writing()
        self._send_timer = self.loop.call_later(server_limits.SEND_SECONDS, self.transport.abort)

    def resume_writing(self) -> None:
        super().resume_writing()
        self._all_was_taken()

    def _is_counted(self) -> bool:
        if not self.counts_addresses or self.client is None:
            return True
        if not self.connections_of.take(self.client[0]):
            return False
        self._address = self.client[0]
        return True

    def _expect_headers(self) -> None:
        self._header_bytes = 0
        self._header_timer = self.loop.call_later(
            server_limits.HEADER_SECONDS, self.transport.abort
        )

    def _headers_came(self) -> None:
        if self._header_timer is not None:
            self._header_timer.cancel()
            self._header_timer = None

    def _all_was_taken(self) -> None:
        if self._send_timer is not None:
            self._send_timer.cancel()
            self._send_timer = None
