"""One file out of a page's ES modules, and out of a style sheet and those it imports: made by
esbuild when static files are collected.

Fifty small files are good to work on and slow to open: a browser keeps six requests to a server
going at a time, and the clip waits in line behind them. In development nothing is bundled; the
modules are served as they are.
"""

import re
import subprocess
from pathlib import Path

from coachdesk.common.paths import CHECKOUT

STATIC = CHECKOUT / "static"
TEMPLATES = CHECKOUT / "templates"
MODULE = re.compile(r"""<script type="module"[^>]* src="\{% static '([^']+)' %\}\"""")
# The program out of its npm package, for this machine: it needs no Node.
ESBUILD = CHECKOUT / "node_modules" / "@esbuild"
OPTIONS = ["--bundle", "--format=esm", "--target=es2022", "--minify", "--sourcemap"]
OPTIONS += ["--external:*.woff2", "--log-level=warning"]


class BundleError(Exception):
    """What esbuild could not take into one file, in its own words."""


def modules_of(template: str) -> list[str]:
    """The module scripts that the text of a template loads, as names of static files."""
    return MODULE.findall(template)


def entries() -> list[str]:
    """What is made into one file each: the module scripts that templates load, and the style
    sheets that import others."""
    texts = (path.read_text() for path in sorted(TEMPLATES.rglob("*.html")))
    scripts = dict.fromkeys(name for text in texts for name in modules_of(text))
    sheets = sorted((STATIC / "css").glob("*.css"))
    together = [f"css/{path.name}" for path in sheets if "@import" in path.read_text()]
    return [*scripts, *together]


def bundle(names: list[str], into: Path, *, source: Path = STATIC) -> list[Path]:
    """Make a file of the same name in `into` for each, and a source map beside it; all of them."""
    program = next(ESBUILD.glob("*/bin/esbuild"), None)
    if program is None:
        raise BundleError("esbuild is missing: npm ci brings it.")
    command = [str(program), *names, *OPTIONS, f"--outbase={source}", f"--outdir={into}"]
    done = subprocess.run(command, cwd=source, capture_output=True, text=True)
    if done.returncode:
        raise BundleError(done.stderr)
    return [path for path in into.rglob("*") if path.is_file()]
