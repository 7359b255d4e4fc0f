"""How much a connection, a body and an address may take, and for how long."""

from collections import Counter

HEADER_SECONDS = 15.0  # from a connection's first moment, or a request's first byte, to its headers
HEADER_BYTES = 64 * 1024
IDLE_SECONDS = 15  # between two requests of one connection
# Of a body 64 KiB, or what is left of it, must come within these seconds; a phone that sends a
# video is given more time than a form.
PORTION_BYTES = 64 * 1024
FORM_SECONDS = 20.0
UPLOAD_SECONDS = 60.0
SEND_SECONDS = 60.0  # until a block of an answer is taken; nginx's send_timeout has the same
CONNECTIONS = 8192
CONNECTIONS_OF_ADDRESS = 4096
# Of forms that have begun to come and are not whole.
FORM_BYTES = 128 * 1024**2
FORM_BYTES_OF_ADDRESS = 16 * 1024**2
PAGE_THREADS = 16
UPLOAD_THREADS = 32  # each may wait for a phone; one person's are bounded where they are received
UPLOADS_OF_ADDRESS = 24


class Share:
    """How much of something each owner has now: not over `each`, nor over `together` with all."""

    def __init__(self, *, each: int, together: int) -> None:
        self.each = each
        self.together = together
        self._taken: Counter[str] = Counter()

    def take(self, owner: str, amount: int = 1) -> bool:
        if self._taken[owner] + amount > self.each or self._taken.total() + amount > self.together:
            return False
        self._taken[owner] += amount
        return True

    def give_back(self, owner: str, amount: int = 1) -> None:
        self._taken[owner] -= amount
        if not self._taken[owner]:
            del self._taken[owner]
