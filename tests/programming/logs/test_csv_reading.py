"""Old logs as spreadsheets write them: encodings, separators, dates, units; bad rows in words."""

import csv
import io
from contextlib import suppress
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coachdesk.common.errors import Invalid
from programming.logs.csv.columns import Mapping, date_order, day_in, guessed
from programming.logs.csv.rows import Parsed, parse
from programming.logs.csv.table import MOST_BYTES, decoded, read

TODAY = date(2026, 11, 25)


def parsed(text: str, unit: str = "kg") -> Parsed:
    table = read(text)
    guess = guessed(table.header, unit)
    at = guess.at("date")
    order = date_order([row[at] for row in table.rows]) if at is not None else "ymd"
    return parse(table, Mapping(guess.fields, order, guess.unit), TODAY)


def only(text: str, unit: str = "kg"):
    found = parsed(text, unit)
    assert not found.errors
    (session,) = found.sessions.values()
    return session.sets[0]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_the_usual_encodings(encoding: str) -> None:
    text = "Datum;Übung;Gewicht;Wdh\n02.11.2026;Kreuzheben für Müde;142,5;3\n"
    lift = only(decoded(text.encode(encoding)))
    assert (lift.movement, lift.load_kg) == ("Kreuzheben für Müde", Decimal("142.500"))


def test_a_comma_is_a_decimal_only_where_it_parts_no_columns() -> None:
    assert only("date;movement;load;reps\n2026-11-02;Row;62,5;8\n").load_kg == Decimal("62.5")
    quoted = parsed('date,movement,load,reps\n2026-11-02,Row,"1,000",8\n')
    assert quoted.errors == [(2, "“1,000” is not a number of load.")], "a thousand, or one?"


@pytest.mark.parametrize(
    ("cells", "order"),
    [
        (["2026-11-02", "2026-12-31"], "ymd"),
        (["02.11.2026", "31.12.2026"], "dmy"),
        (["11/02/2026", "12/31/2026"], "mdy"),
        (["02/11/2026", "03/11/2026"], "dmy"),  # both fit: the day first, and the page asks
        (["2.11.26"], "dmy"),
        (["2026-11-02 18:30"], "ymd"),
    ],
)
def test_the_order_of_dates_is_the_one_that_fits_all(cells: list[str], order: str) -> None:
    assert date_order(cells) == order
    assert all(day_in(cell, order) for cell in cells)


def test_a_date_that_does_not_exist_is_none() -> None:
    assert day_in("31.02.2026", "dmy") is None
    assert day_in("02.11.26", "ymd") is None


def test_pounds_by_column_by_heading_and_by_choice() -> None:
    # 315 lb = 142.882 kg (0.45359237 kg a pound, by definition)
    kg = Decimal("142.882")
    assert only("date,lift,load,unit,reps\n2026-11-02,Row,315,lbs,8\n").load_kg == kg
    assert only("date,lift,Weight (lb),reps\n2026-11-02,Row,315,8\n").load_kg == kg
    assert only("date,lift,load,reps\n2026-11-02,Row,315,8\n", "lb").load_kg == kg


def test_sets_alike_are_as_many_sets() -> None:
    (session,) = parsed("date,movement,sets,reps\n2026-11-02,Row,3,8\n").sessions.values()
    assert [lift.reps for lift in session.sets] == [8, 8, 8]


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        (",Row,100,8,", "There is no date."),
        ("31.02.2026,Row,100,8,", "“31.02.2026” is not a date written year, month, day."),
        ("2026-12-24,Row,100,8,", "2026-12-24 has not come yet."),
        ("2026-11-02,,100,8,", "There is no movement."),
        ("2026-11-02,Row,heavy,8,", "“heavy” is not a number of load."),
        ("2026-11-02,Row,100,,", "There are no reps."),
        ("2026-11-02,Row,100,3.5,", "“3.5”: reps are whole and at most 200."),
        ("2026-11-02,Row,100,0,", "No rep was done and none missed."),
        ("2026-11-02,Row,100,8,11", "“11” is not an effort from 1 to 10 in halves."),
        ("2026-11-02,Row,100,8,7.3", "“7.3” is not an effort from 1 to 10 in halves."),
        ("2026-11-02,Row,9000,8,", "9000 kg cannot be right. Check the load."),
    ],
)
def test_a_bad_row_is_named_by_its_line_and_a_sentence(row: str, sentence: str) -> None:
    found = parsed(f'date,movement,load,reps,rpe\n2026-11-01,"Row\n",60,8,7\n{row}\n')
    assert found.errors == [(4, sentence)], "line 4: the row above is two lines long"
    assert found.set_count == 1


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"x" * (MOST_BYTES + 1), "larger than 2 MB"),
        (b"PK\x03\x04\x00\x00", "not a text file"),
        (b"\xff\xfe\x00", "not a text file"),
        (b"just words\nand more\n", "does not name columns"),
        (b"date,movement,reps\n", "no rows"),
        (b'date,movement,reps\n2026-11-02,"Row,8\n', "Line 2 cannot be read"),
        (b"", "does not name columns"),
    ],
)
def test_what_is_no_log_is_refused_in_words(data: bytes, sentence: str) -> None:
    with pytest.raises(Invalid, match=sentence):
        read(decoded(data))


CELLS = st.sampled_from(
    ["2026-11-02", "02.11.26", "Row", "62,5", "8", "-1", "", "1e9", "٣", "=1+2", "kg", "9" * 40]
)


@given(data=st.binary(max_size=300) | st.text(max_size=200).map(str.encode))
def test_no_bytes_break_the_reading(data: bytes) -> None:
    with suppress(Invalid):  # in words; anything else would be a page that breaks
        read(decoded(data))


@given(rows=st.lists(st.lists(CELLS | st.text(max_size=8), min_size=1, max_size=7), max_size=6))
def test_no_row_breaks_the_parsing(rows: list[list[str]]) -> None:
    """Each row is lifted or has its sentence; nothing else comes of it."""
    out = io.StringIO()
    csv.writer(out).writerows([["date", "movement", "load", "unit", "reps", "rpe", "sets"], *rows])
    try:
        table = read(out.getvalue())
    except Invalid:
        return
    mapping = Mapping(guessed(table.header, "kg").fields, "ymd", "kg")
    found = parse(table, mapping, TODAY)
    assert len(found.errors) <= len(table.rows)
    assert found.errors or found.set_count
