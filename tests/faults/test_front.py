"""What the front tells the application about who asks."""

import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import httpx
import pytest

from tests.faults.ground import Ground, free_port, until
from tests.faults.topology import nginx_of


class Echo(BaseHTTPRequestHandler):
    def do_GET(self) -> None:
        self.send_response(200)
        self.end_headers()
        told = (self.headers["X-Forwarded-For"], self.headers["X-Forwarded-Proto"])
        self.wfile.write(" ".join(told).encode())

    def log_message(self, *args: object) -> None:
        """Nobody reads it."""


@pytest.fixture
def front(tmp_path: Path) -> Iterator[str]:
    server = ThreadingHTTPServer(("127.0.0.1", 0), Echo)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    ground, port = Ground(tmp_path, {}), free_port()
    words = nginx_of(tmp_path, listen=port, web=server.server_port, storage="127.0.0.1:9")
    ground._start(words)
    url = f"http://127.0.0.1:{port}"
    try:
        until(lambda: _answers(url), 20, "nginx answers")
        yield url
    finally:
        ground.end()
        server.shutdown()
        server.server_close()


def _answers(url: str) -> bool:
    try:
        return httpx.get(url).is_success
    except httpx.TransportError:
        return False


def test_each_person_is_counted_alone_behind_the_server_with_the_certificate(front: str) -> None:
    """One address, the last: what a person put before it is not believed. The addresses are of
    RFC 5737, which keeps them for documents."""

    def told(**headers: str) -> str:
        named = {name.replace("_", "-"): said for name, said in headers.items()}
        return httpx.get(front, headers=named).text

    assert told() == "127.0.0.1 http"
    assert told(X_Forwarded_For="203.0.113.9", X_Forwarded_Proto="https") == "203.0.113.9 https"
    assert told(X_Forwarded_For="198.51.100.7, 203.0.113.9") == "203.0.113.9 http"
