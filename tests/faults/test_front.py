"""What the front tells the application about who asks, and what it keeps to itself."""

import socket
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import httpx
import pytest
from django.conf import settings

from tests.faults.ground import Ground, free_port, until
from tests.faults.topology import nginx_of


class Echo(BaseHTTPRequestHandler):
    asked: list[str]

    def do_POST(self) -> None:
        """As the application takes an upload: it has the headers before the body is there."""
        self.asked.append(self.path)
        received = len(self.rfile.read(int(self.headers["Content-Length"])))
        self.send_response(200)
        self.end_headers()
        self.wfile.write(str(received).encode())

    def do_GET(self) -> None:
        self.send_response(200)
        self.end_headers()
        told = (self.headers["X-Forwarded-For"], self.headers["X-Forwarded-Proto"])
        self.wfile.write(" ".join(told).encode())

    def log_message(self, *args: object) -> None:
        """Nobody reads it."""


@pytest.fixture
def front(tmp_path: Path) -> Iterator[str]:
    Echo.asked = []
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


def test_a_form_that_is_too_large_is_neither_kept_nor_passed_on(front: str) -> None:
    """By the same limit as the application's: there is one rule."""
    most = settings.DATA_UPLOAD_MAX_MEMORY_SIZE
    assert httpx.post(f"{front}/form", content=bytes(most)).text == str(most)
    assert httpx.post(f"{front}/form", content=bytes(most + 1)).status_code == 413
    assert Echo.asked == ["/form"]
    upload = httpx.post(f"{front}/uploads/", content=bytes(most + 1))
    assert upload.text == str(most + 1)


def test_a_form_that_stops_does_not_reach_the_application_and_an_upload_does(front: str) -> None:
    def begin(path: str) -> socket.socket:
        connection = socket.create_connection(("127.0.0.1", httpx.URL(front).port or 0), 20)
        head = f"POST {path} HTTP/1.1\r\nHost: x\r\nContent-Length: 10\r\n\r\n"
        connection.sendall(head.encode() + b"half.")
        return connection

    with begin("/form") as form, begin("/uploads/"):
        until(lambda: "/uploads/" in Echo.asked, 20, "the upload's beginning is passed on")
        assert Echo.asked == ["/uploads/"], "the form began before it"
        form.sendall(b"whole")
        until(lambda: "/form" in Echo.asked, 20, "the form is passed on once it is whole")
