"""One file out of a page's ES modules, made when static files are collected.

Fifty small files are good to work on and slow to open: a browser keeps six requests to a server
going at a time, and the clip waits in line behind them. In development nothing is bundled; the
modules are served as they are.

Every module becomes a function that hands out what it exports, in the order in which the browser
would run them, so names of one module never meet those of another. Only the forms of `import` and
`export` that our modules use are known; anything else is refused, here and by the tests.
"""

import re
from pathlib import Path

from coachdesk.modules import STATIC

IMPORT = re.compile(r'^import\s+(?:\{([^}]*)\}\s+from\s+)?"(\.[^"]+)";$', re.MULTILINE)
EXPORT = re.compile(r"^export (?=(?:async )?(?:function|class|const) (\w+))", re.MULTILINE)
LEFT = re.compile(r"^\s*(?:import|export)\b.*", re.MULTILINE)
# Whole lines of comment only: what else looks like one may stand in a string.
COMMENT = re.compile(r"^[ \t]*(?://.*|/\*\*(?:(?!\*/)[\s\S])*\*/[ \t]*)\n", re.MULTILINE)


class Unbundled(ValueError):
    """A module that cannot be taken into one file; says which, and why."""


def bundle(entry: Path) -> str:
    """The script that does what the module `entry` and all it imports do."""
    return "\n".join(_function(path) for path in in_order(entry)) + "\n"


def in_order(entry: Path) -> list[Path]:
    """The modules an entry reaches, each after those it imports, as a browser runs them."""
    done: dict[Path, None] = {}

    def visit(path: Path, above: tuple[Path, ...]) -> None:
        if path in above:
            raise Unbundled(f"{path.name} imports itself by way of {above[-1].name}")
        if path in done:
            return
        for _, name in IMPORT.findall(path.read_text()):
            visit((path.parent / name).resolve(), (*above, path))
        done[path] = None

    visit(entry.resolve(), ())
    return list(done)


def _function(path: Path) -> str:
    def taken(found: re.Match[str]) -> str:
        names, name = found.groups()
        if names is None:
            return ""  # for what it does, which has happened above
        listed = re.sub(r"\s+as\s+", ": ", names.strip().rstrip(","))
        return f"const {{ {listed} }} = {_name((path.parent / name).resolve())};"

    text = COMMENT.sub("", path.read_text())
    text = IMPORT.sub(taken, text)
    names = EXPORT.findall(text)
    text = EXPORT.sub("", text)
    if left := LEFT.search(text):
        raise Unbundled(f"{path.name}: {left.group().strip()}")
    return f"const {_name(path)} = (() => {{\n{text}return {{ {', '.join(names)} }};\n}})();"


def _name(path: Path) -> str:
    return "m_" + re.sub(r"\W", "_", path.relative_to(STATIC).as_posix())
