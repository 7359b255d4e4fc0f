"""Mail servers on loopback: one that takes mail, and what one can be like when it does not."""

import contextlib
import socket
import socketserver
import threading
from collections.abc import Iterator
from email import message_from_bytes
from email.message import Message


class _Session(socketserver.StreamRequestHandler):
    """As much of SMTP (RFC 5321, section 4.1) as a client needs to hand over a mail."""

    server: "MailServer"

    def handle(self) -> None:
        self._say("220 ready")
        while line := self.rfile.readline():
            verb = line[:4].upper()
            if verb == b"DATA":
                self._say("354 go on")
                self._take()
            elif verb == b"RCPT" and any(word in line for word in self.server.refused):
                self._say("550 nobody here")
            elif verb == b"QUIT":
                self._say("221 bye")
                return
            else:
                self._say("250 ok")

    def _take(self) -> None:
        lines: list[bytes] = []
        while (line := self.rfile.readline()) not in (b".\r\n", b""):
            lines.append(line)
        self.server.taken.append(message_from_bytes(b"".join(lines)))
        self.server.arrived.set()
        self.server.may_answer.wait(60)
        self._say("250 taken")

    def _say(self, line: str) -> None:
        with contextlib.suppress(OSError):  # whoever was there is gone
            self.wfile.write(f"{line}\r\n".encode())


class MailServer(socketserver.ThreadingTCPServer):
    """`taken` are the mails in order. Clear `may_answer` and it takes one without saying so."""

    daemon_threads = allow_reuse_address = True

    def __init__(self, port: int = 0) -> None:
        super().__init__(("127.0.0.1", port), _Session)
        self.taken: list[Message] = []
        self.refused: list[bytes] = []
        self.arrived, self.may_answer = threading.Event(), threading.Event()
        self.may_answer.set()

    @property
    def port(self) -> int:
        return int(self.server_address[1])


@contextlib.contextmanager
def mail_server(port: int = 0) -> Iterator[MailServer]:
    with MailServer(port) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server
        server.may_answer.set()
        server.shutdown()


@contextlib.contextmanager
def silent_server() -> Iterator[int]:
    """The port of one that accepts and never says a word."""
    with socket.create_server(("127.0.0.1", 0), backlog=64) as listening:
        yield int(listening.getsockname()[1])
