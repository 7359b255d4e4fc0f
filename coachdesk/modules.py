"""Which ES modules a page's entry reaches, read from the sources.

Without a build step a browser learns of a module only when it has read the one that imports it;
told of all of them at once, it fetches them side by side.
"""

import re
from functools import cache
from pathlib import Path

from coachdesk.paths import CHECKOUT

STATIC = CHECKOUT / "static"
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


def names_reached(entry: str) -> list[str]:
    """The same as names of static files ("js/panels/workbench.js"), the entry first."""
    return [path.relative_to(STATIC).as_posix() for path in reached(STATIC / entry)]
