"""Which ES modules and style sheets the pages load, and what those reach, read from the sources."""

import re
from functools import cache
from pathlib import Path

from coachdesk.common.paths import CHECKOUT

STATIC = CHECKOUT / "static"
TEMPLATES = CHECKOUT / "templates"
ENTRY = re.compile(r"""\{% module '([^']+)'(?: late=True)? %\}""")
SHEETS = re.compile(r"""\{% sheets ((?:'[^']+' )+)%\}""")
IMPORT = re.compile(r"""^(?:import|export)\b[^;]*?["'](\.[^"']+)["'];""", re.MULTILINE)


@cache
def reached(entry: Path) -> tuple[Path, ...]:
    """The entry and every module it imports, directly or not, each once."""
    seen: dict[Path, None] = {}
    waiting = [entry]
    while waiting:
        path = waiting.pop()
        if path not in seen:
            seen[path] = None
            waiting += [(path.parent / name).resolve() for name in IMPORT.findall(path.read_text())]
    return tuple(seen)


def entries() -> list[str]:
    """What templates load with `{% module %}`, as names of static files, each once."""
    texts = (path.read_text() for path in sorted(TEMPLATES.rglob("*.html")))
    return list(dict.fromkeys(name for text in texts for name in ENTRY.findall(text)))


def sheets() -> list[tuple[str, ...]]:
    """The style sheets that templates load together with `{% sheets %}` ("tokens" is
    css/tokens.css), each set once."""
    texts = (path.read_text() for path in sorted(TEMPLATES.rglob("*.html")))
    found = (words for text in texts for words in SHEETS.findall(text))
    return list(dict.fromkeys(tuple(re.findall("'([^']+)'", words)) for words in found))


def sheets_name(names: tuple[str, ...]) -> str:
    """Under which name such a set is collected as one file, beside the sheets it is made of, so
    that the addresses in them stay right."""
    return f"css/{'-'.join(names)}.bundle.css"


def sheet_file(name: str) -> str:
    return f"css/{name}.css"


def bundle_name(entry: str) -> str:
    """Under which name an entry and all it reaches is collected as one file."""
    return entry.removesuffix(".js") + ".bundle.js"


def names_reached(entry: str) -> list[str]:
    """The same as names of static files ("js/workbench/workbench.js"), the entry first."""
    return [path.relative_to(STATIC).as_posix() for path in reached(STATIC / entry)]
