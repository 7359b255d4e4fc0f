"""No cell of ours runs as a formula, and every text comes back as it was.

Characters: OWASP ASVS 5.0, requirement 1.2.10 (= + - @ tab and NUL, escaped with a single quote),
CWE-1236; carriage return from memory of OWASP's page on CSV injection.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from programming.logs.csv.cells import escape_cell, unescape_cell

ASVS_1_2_10 = ["=", "+", "-", "@", "\t", "\0"]


@pytest.mark.parametrize("risky", [*ASVS_1_2_10, "\r"])
def test_a_risky_cell_begins_with_a_quote(risky: str) -> None:
    assert escape_cell(f"{risky}1+2") == f"'{risky}1+2"


@given(st.text() | st.text("'=+-@\t\r\n x", max_size=6))
def test_every_text_comes_back_and_none_is_risky(text: str) -> None:
    cell = escape_cell(text)
    assert not cell.startswith((*ASVS_1_2_10, "\r", "\n"))
    assert unescape_cell(cell) == text


def test_a_quote_of_somebody_elses_stays() -> None:
    assert unescape_cell("'70s squat") == "'70s squat"
