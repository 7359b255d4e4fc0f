"""The real server on a free port, in front of a small WSGI application that a test brings."""

import socket
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from typing import Any

import pytest
import uvicorn

from coachdesk.server.gate import Gate
from coachdesk.server.uvicorn_config import configuration

Application = Callable[[dict[str, Any], Any], Iterable[bytes]]
UPLOADS = "/uploads"
MOST_BYTES = 100_000


class Serving:
    def __init__(self, port: int) -> None:
        self.port = port

    def connect(self, text: str, **options: int) -> socket.socket:
        """A connection that has sent `text` and waits ten seconds for each answer."""
        connection = socket.socket()
        for name, value in options.items():
            connection.setsockopt(socket.SOL_SOCKET, getattr(socket, name), value)
        connection.settimeout(10)
        connection.connect(("127.0.0.1", self.port))
        connection.sendall(text.replace("\n", "\r\n").encode())
        return connection

    def answer(self, text: str) -> str:
        """All that the server says until it ends the connection."""
        with self.connect(text) as connection:
            return everything(connection)


def is_ended(connection: socket.socket) -> bool:
    """Whether the server ends it in good time, by a close or a reset, with no word more."""
    try:
        return connection.recv(1) == b""
    except ConnectionError:
        return True


def everything(connection: socket.socket) -> str:
    received = b""
    while block := connection.recv(65536):
        received += block
    return received.decode("latin-1")


@pytest.fixture
def serve() -> Iterator[Callable[[Application], Serving]]:
    running: list[tuple[uvicorn.Server, threading.Thread]] = []

    def serve(application: Application) -> Serving:
        gate = Gate(
            application,
            streams=lambda path: path == UPLOADS,
            most_bytes=MOST_BYTES,
            is_behind_proxy=False,
        )
        listener = socket.create_server(("127.0.0.1", 0))
        port = listener.getsockname()[1]
        server = uvicorn.Server(configuration(gate, address="127.0.0.1", port=port))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]})
        thread.start()
        running.append((server, thread))
        until = time.monotonic() + 20
        while not server.started:
            assert time.monotonic() < until, "the server did not start"
            time.sleep(0.01)
        return Serving(port)

    yield serve
    for server, thread in running:
        server.should_exit = True
        thread.join(20)
        assert not thread.is_alive(), "the server did not stop"
