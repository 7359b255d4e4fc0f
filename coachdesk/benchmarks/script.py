"""How much script a page asks for: every file its entries reach, compressed as it is served."""

import gzip
import re
from pathlib import Path

import django_htmx

from coachdesk.benchmarks.rows import Row
from coachdesk.bundle import bundle
from coachdesk.common.paths import CHECKOUT
from coachdesk.modules import ENTRY, STATIC, reached

SINGLE = re.compile(r"""<script[^>]*\bsrc="\{% static '([^']+)' %\}\"""")
# Pages and the folders their scripts may come from; a classic script comes from its package.
PAGES = {
    "script.workbench_kb": (["reviews/workbench/page.html"], 120),
    "script.athlete_kb": (["reviews/replies/submission.html", "reviews/intake/submit.html"], 60),
}
PACKAGES = {
    "vendor/tus": CHECKOUT / "node_modules" / "tus-js-client" / "dist",
    "django_htmx": Path(django_htmx.__file__).parent / "static" / "django_htmx",
}


def rows() -> list[Row]:
    """The heaviest page of each kind; there is nothing to repeat, so a run is one."""
    found = []
    for name, (pages, most) in PAGES.items():
        heaviest = max(_weight(CHECKOUT / "templates" / page) for page in pages)
        against = f"the heaviest page's script, gzip: at most {most}"
        found.append(Row(name=name, value=heaviest, unit="kB", against=against, runs=1))
    return found


def _weight(template: Path) -> float:
    text = template.read_text()
    files = {path for name in SINGLE.findall(text) for path in reached(_file(name))}
    served = [bundle(STATIC / name).encode() for name in ENTRY.findall(text)]
    served += [path.read_bytes() for path in files]
    if not served:
        raise AssertionError(f"{template.name} loads no script: it is read wrongly")
    return round(sum(len(gzip.compress(content, 9)) for content in served) / 1000, 1)


def _file(name: str) -> Path:
    for prefix, folder in PACKAGES.items():
        if name.startswith(prefix):
            return folder / name.removeprefix(f"{prefix}/")
    return STATIC / name
