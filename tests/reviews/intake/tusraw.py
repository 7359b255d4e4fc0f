"""A tus client made of raw requests, to say exactly what a rule is about."""

import base64
import hashlib
import socket
from http.client import HTTPResponse
from typing import Any

from tests.reviews.intake.site import Site, metadata

VERSION = {"Tus-Resumable": "1.0.0"}
BYTES = {"Content-Type": "application/offset+octet-stream"}


class Raw:
    def __init__(self, site: Site, who: str = "mira") -> None:
        self.site, self.who = site, who

    def ask(
        self, method: str, path: str, headers: dict[str, str] | None = None, body: Any = None
    ) -> HTTPResponse:
        own = {**self.site.signed_in(self.who), **VERSION, **(headers or {})}
        return self.site.ask(method, path, {k: v for k, v in own.items() if v != ""}, body)

    def create(
        self, length: int, clip: str | None = None, body: bytes | None = None, **headers: str
    ) -> HTTPResponse:
        told = {
            "Upload-Length": str(length),
            "Upload-Metadata": metadata(clip or self.site.clip(self.who)),
        }
        if body is not None:
            told |= BYTES
        return self.ask("POST", "/uploads/", {**told, **headers}, body)

    def new(self, length: int) -> str:
        response = self.create(length)
        assert response.status == 201, response.text  # type: ignore[attr-defined]
        return str(response.headers["Location"])

    def patch(self, path: str, at: int, body: bytes, **headers: str) -> HTTPResponse:
        names = {name.replace("_", "-"): value for name, value in headers.items()}
        return self.ask("PATCH", path, {**BYTES, "Upload-Offset": str(at), **names}, body)

    def offset(self, path: str) -> int:
        response = self.ask("HEAD", path)
        assert response.status in {200, 204}
        return int(response.headers["Upload-Offset"])

    def slow_patch(self, path: str, at: int, length: int) -> socket.socket:
        """A connection that announces `length` bytes; the caller sends as many as it likes."""
        connection = socket.create_connection(("127.0.0.1", self.site.port), timeout=20)
        lines = {
            "Host": f"127.0.0.1:{self.site.port}",
            "Content-Length": str(length),
            "Upload-Offset": str(at),
            **BYTES,
            **VERSION,
            **self.site.signed_in(self.who),
        }
        head = "".join(f"{name}: {value}\r\n" for name, value in lines.items())
        connection.sendall(f"PATCH {path} HTTP/1.1\r\n{head}\r\n".encode())
        return connection


def sha1(body: bytes) -> str:
    return "sha1 " + base64.b64encode(hashlib.sha1(body).digest()).decode()
