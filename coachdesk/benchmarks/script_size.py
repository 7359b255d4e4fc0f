"""How much script a page asks for: its scripts as they are served, compressed."""

import gzip
import re
from pathlib import Path
from tempfile import TemporaryDirectory

import django_htmx

from coachdesk.benchmarks.figures import Row
from coachdesk.bundle import STATIC, bundle, modules_of
from coachdesk.common.paths import CHECKOUT

CLASSIC = re.compile(r"""<script (?!type="module")[^>]*\bsrc="\{% static '([^']+)' %\}\"""")
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
    served = [_file(name).read_bytes() for name in CLASSIC.findall(text)]
    with TemporaryDirectory() as scratch:
        made = bundle(modules_of(text), Path(scratch))
        served += [path.read_bytes() for path in made if path.suffix == ".js"]
    if not served:
        raise AssertionError(f"{template.name} loads no script: it is read wrongly")
    return round(sum(len(gzip.compress(content, 9)) for content in served) / 1000, 1)


def _file(name: str) -> Path:
    for prefix, folder in PACKAGES.items():
        if name.startswith(prefix):
            return folder / name.removeprefix(f"{prefix}/")
    return STATIC / name
