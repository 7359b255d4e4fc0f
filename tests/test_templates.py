"""Templates are read by people: no line is longer than fits beside another file."""

from pathlib import Path

TEMPLATES = Path(__file__).resolve().parent.parent / "templates"
LONGEST = 120


def test_no_line_is_too_long() -> None:
    long = [
        f"{path.relative_to(TEMPLATES)}:{number}"
        for path in sorted(TEMPLATES.rglob("*.html"))
        for number, line in enumerate(path.read_text().splitlines(), 1)
        if len(line) > LONGEST
    ]
    assert not long
