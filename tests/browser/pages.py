"""Every page that is looked at: by axe at 390 and 1440 px, light and dark.

To add a page, put a `PAGES = [Look(...)]` into `tests/browser/<area>/pages.py`; it is found by
its place. `route` is the url name, `who` a field of the cast (None: nobody signed in), and `build`
makes the rows the page needs and returns its path. One route may be looked at in several states.
"""

import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from tests.conftest import Cast

HERE = Path(__file__).parent


@dataclass(frozen=True)
class Look:
    route: str
    who: str | None
    build: Callable[[Cast], str]
    state: str = ""
    status: int = 200

    @property
    def name(self) -> str:
        return "-".join(filter(None, [self.route, self.state, self.who or "anonymous"]))


def every_look() -> list[Look]:
    looks: list[Look] = []
    for area in sorted(info.name for info in pkgutil.iter_modules([str(HERE)]) if info.ispkg):
        if (HERE / area / "pages.py").exists():
            looks += import_module(f"tests.browser.{area}.pages").PAGES
    return looks
