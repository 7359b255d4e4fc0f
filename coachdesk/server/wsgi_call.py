"""One request through a WSGI application (PEP 3333), each step in a thread of a pool."""

import sys
from collections.abc import Callable, Iterable, Iterator
from typing import Any
from urllib.parse import unquote_to_bytes

BLOCK = 256 * 1024  # of an answer that comes in parts: what a client that stops reading holds


def environ_of(scope: dict[str, Any], body: Any) -> dict[str, Any]:
    """The WSGI environment of an ASGI scope whose body is read from `body`.

    A name with an underscore is left out: it would pass for the same name with a hyphen, which a
    front sets and others must not.
    """
    host, port = scope["server"] or ("localhost", 80)
    environ: dict[str, Any] = {
        "REQUEST_METHOD": scope["method"],
        "SCRIPT_NAME": "",
        "PATH_INFO": unquote_to_bytes(scope["raw_path"]).decode("latin-1"),
        "QUERY_STRING": scope["query_string"].decode("latin-1"),
        "SERVER_PROTOCOL": f"HTTP/{scope['http_version']}",
        "SERVER_NAME": host,
        "SERVER_PORT": str(port),
        "REMOTE_ADDR": scope["client"][0] if scope["client"] else "",
        "wsgi.version": (1, 0),
        "wsgi.url_scheme": scope["scheme"],
        "wsgi.input": body,
        "wsgi.errors": sys.stderr,
        "wsgi.multithread": True,
        "wsgi.multiprocess": True,
        "wsgi.run_once": False,
    }
    for raw_name, raw_value in scope["headers"]:
        if b"_" in raw_name:
            continue
        name = raw_name.decode("latin-1").upper().replace("-", "_")
        key = name if name in {"CONTENT_TYPE", "CONTENT_LENGTH"} else f"HTTP_{name}"
        value = raw_value.decode("latin-1")
        joint = "; " if key == "HTTP_COOKIE" else ","
        environ[key] = f"{environ[key]}{joint}{value}" if key in environ else value
    return environ


class WsgiCall:
    """Begun with `begin`; then `block` until it is empty; then `close`."""

    def __init__(self, application: Callable[..., Iterable[bytes]], environ: dict[str, Any]):
        self.status = 500
        self.headers: list[tuple[str, str]] = []
        self.has_ended = False
        self._application = application
        self._environ = environ
        self._answer: Iterable[bytes] = ()
        self._parts: Iterator[bytes] = iter(())

    def begin(self) -> bytes:
        """Let the application answer; the first block of what it says."""
        self._answer = self._application(self._environ, self._start)
        self._parts = iter(self._answer)
        return self.block()

    def block(self) -> bytes:
        """The next parts of the answer together: each call is a way into a thread and back."""
        parts, length = [], 0
        for part in self._parts:
            parts.append(part)
            length += len(part)
            if length >= BLOCK:
                return b"".join(parts)
        self.has_ended = True
        return b"".join(parts)

    def close(self) -> None:
        close = getattr(self._answer, "close", None)
        if close is not None:
            close()

    def _start(self, status: str, headers: list[tuple[str, str]], exc_info: Any = None) -> None:
        self.status = int(status.split(" ", 1)[0])
        self.headers = headers
