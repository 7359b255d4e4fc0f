"""From the bytes of a file to a table of texts: encoding, separator, header. Pure."""

import codecs
import csv
import io
from dataclasses import dataclass

from coachdesk.common.errors import Invalid

MOST_BYTES = 2_000_000  # ten years of four sessions a week are about half of it
MOST_ROWS = 20_000
MOST_CELL = 5000
TOO_LARGE = "The file is larger than 2 MB. Split it by year and bring in one at a time."
SEPARATORS = (",", ";", "\t")


@dataclass(frozen=True)
class Table:
    """``rows`` under ``header``, each as long as it; ``numbers``: the line of the file each row
    begins on, as an editor counts them. ``comma``: decimals may be written with a comma."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: tuple[int, ...]
    comma: bool = False


def decoded(data: bytes) -> str:
    """The text of a file: UTF-8 with or without its mark, UTF-16 with one, else Windows-1252,
    which older spreadsheets write. Raises Invalid for what is no text, or too much."""
    if len(data) > MOST_BYTES:
        raise Invalid(TOO_LARGE)
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        encodings = ["utf-16"]
    else:
        encodings = ["utf-8-sig", "cp1252"]
    for encoding in encodings:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise Invalid("This is not a text file. Save the sheet as CSV and send that.")


def read(text: str) -> Table:
    """Raises Invalid where there is no table to find."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    separator = max(SEPARATORS, key=lambda mark: first.count(mark))
    if separator not in first:
        raise Invalid(
            "The first line does not name columns. It needs at least a date, a movement and reps, "
            "parted by commas or semicolons."
        )
    rows, numbers = [], []
    try:
        lines = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
        began = 1
        for row in lines:
            if any(cell.strip() for cell in row):
                rows.append(tuple(cell.strip(" ") for cell in row))
                numbers.append(began)
            began = lines.line_num + 1
            if len(rows) > MOST_ROWS + 1:
                raise Invalid(f"More than {MOST_ROWS} rows. Split the file by year.")
    except csv.Error as wrong:
        raise Invalid(f"Line {began} cannot be read as CSV: {wrong}.") from wrong
    if len(rows) < 2:
        raise Invalid("There are no rows under the first line.")
    if any(len(cell) > MOST_CELL for row in rows for cell in row):
        raise Invalid(f"A cell holds more than {MOST_CELL} characters.")
    header = rows[0]
    wide = [row[: len(header)] + ("",) * (len(header) - len(row)) for row in rows[1:]]
    return Table(header, tuple(wide), tuple(numbers[1:]), comma=separator != ",")
