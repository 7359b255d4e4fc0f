"""A small file server that honours Range (RFC 9110 section 14), for pages that need no Django.

For benchmarks and tests of the player alone; people are served by `reviews.intake.media_views`.
"""

from __future__ import annotations

import mimetypes
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path


class Handler(BaseHTTPRequestHandler):
    """Serves the folders of `roots`, a prefix each."""

    roots: dict[str, Path] = {}
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        """Send the file, or the part asked for."""
        path = self._file(self.path.split("?")[0])
        if path is None:
            self.send_error(404)
            return
        body = path.read_bytes()
        asked = re.fullmatch(r"bytes=(\d+)-(\d*)", self.headers.get("Range", ""))
        first = int(asked[1]) if asked else 0
        last = min(int(asked[2]) if asked and asked[2] else len(body) - 1, len(body) - 1)
        self.send_response(206 if asked else 200)
        if asked:
            self.send_header("Content-Range", f"bytes {first}-{last}/{len(body)}")
        self.send_header("Accept-Ranges", "bytes")
        self.send_header("Content-Type", mimetypes.guess_type(path.name)[0] or "text/plain")
        self.send_header("Content-Length", str(last - first + 1))
        self.end_headers()
        try:
            self.wfile.write(body[first : last + 1])
        except (BrokenPipeError, ConnectionResetError):
            self.close_connection = True  # the browser has seen enough of this part

    def _file(self, address: str) -> Path | None:
        for prefix, root in self.roots.items():
            if address.startswith(prefix):
                path = (root / address.removeprefix(prefix)).resolve()
                return path if path.is_relative_to(root) and path.is_file() else None
        return None

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing."""


@contextmanager
def served(roots: dict[str, Path]) -> Iterator[str]:
    """Address of a server on this machine that ends with the block."""
    handler = type("Roots", (Handler,), {"roots": {k: v.resolve() for k, v in roots.items()}})
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        server.server_close()
        thread.join(5)
