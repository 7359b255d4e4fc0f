"""How many clips one person may send at the same time: a slow phone holds a thread meanwhile."""

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock

UPLOADS_OF_PERSON = 6  # the page sends one; connections that died without a word count for a while

_lock = Lock()
_receiving: Counter[int] = Counter()  # of this process


class TooMany(Exception):
    """As many as may be are on their way already."""


@contextmanager
def one_of_few(person_id: int) -> Iterator[None]:
    """While a body of this person is received. Raises TooMany."""
    with _lock:
        if _receiving[person_id] >= UPLOADS_OF_PERSON:
            raise TooMany
        _receiving[person_id] += 1
    try:
        yield
    finally:
        with _lock:
            _receiving[person_id] -= 1
            if not _receiving[person_id]:
                del _receiving[person_id]
