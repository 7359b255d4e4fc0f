"""Reading a body: a cut is counted. (Silence is the server's: tests/coachdesk/server/.)"""

import io

from django.http.request import UnreadablePostError

from reviews.intake.receiving import blocks


def test_a_body_that_ends_early_just_ends() -> None:
    assert b"".join(blocks(io.BytesIO(b"half."), 10)) == b"half."


def test_a_reset_in_the_middle_keeps_what_came_before() -> None:
    class Reset(io.BytesIO):
        def read(self, size: int | None = -1, /) -> bytes:
            block = super().read(size)
            if not block:
                raise UnreadablePostError("reset")
            return block

    assert b"".join(blocks(Reset(b"half."), 10)) == b"half."


def test_never_more_than_was_announced() -> None:
    assert b"".join(blocks(io.BytesIO(b"0123456789"), 4)) == b"0123"
