"""Which ES modules the pages load, and which each of those reaches, read from the sources."""

import re
from functools import cache
from pathlib import Path

from coachdesk.paths import CHECKOUT

STATIC = CHECKOUT / "static"
TEMPLATES = CHECKOUT / "templates"
ENTRY = re.compile(r"""\{% module '([^']+)' %\}""")
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


def bundle_name(entry: str) -> str:
    """Under which name an entry and all it reaches is collected as one file."""
    return entry.removesuffix(".js") + ".bundle.js"


def names_reached(entry: str) -> list[str]:
    """The same as names of static files ("js/panels/workbench.js"), the entry first."""
    return [path.relative_to(STATIC).as_posix() for path in reached(STATIC / entry)]
