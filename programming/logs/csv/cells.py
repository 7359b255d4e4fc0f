"""Cells that a spreadsheet does not run as formulas. Pure.

A cell that begins with one of these gets a single quote before it (OWASP ASVS 5.0, requirement
1.2.10; CWE-1236). Carriage return, line feed and the full-width forms are from memory of OWASP's
page on CSV injection.
"""

import re

RISKY = "=+\\-@\t\r\n\0\uff1d\uff0b\uff0d\uff20"
BEGINS_RISKY = re.compile(f"'*[{RISKY}]")
MADE_SAFE = re.compile(f"'+[{RISKY}]")


def escape_cell(text: str) -> str:
    """The cell to write. ``unescape_cell`` gives the text back, whatever it was."""
    return f"'{text}" if BEGINS_RISKY.match(text) else text


def unescape_cell(cell: str) -> str:
    """The text that a cell of ours stood for; a cell of anybody else's stays as it is, unless it
    was made safe in the same way."""
    return cell[1:] if MADE_SAFE.match(cell) else cell
