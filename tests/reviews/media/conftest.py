"""Each kind of clip is encoded and processed once a session, whoever looks at it."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from reviews.media.limits import Limits
from reviews.media.made import Made
from reviews.media.process import process
from tests.reviews.media.encodes import KINDS, ODDITIES, Kind, encode


@dataclass(frozen=True)
class Processed:
    kind: Kind
    source: Path
    folder: Path
    made: Made
    progress: list[float]

    def file(self, what: str) -> Path:
        return self.folder / self.made.files[what]


def pytest_itemcollected(item: pytest.Function) -> None:
    """What looks at the same clip runs in one process: to make it takes longer than to look."""
    name = item.callspec.params.get("name") if hasattr(item, "callspec") else None
    if name and "processed" in item.fixturenames:
        item.add_marker(pytest.mark.xdist_group(f"clip-{name}"))


@pytest.fixture(autouse=True)
def _shipped_rows_survive() -> None:
    """The pure wing has no rows: its tests must pass without a database."""


@pytest.fixture(autouse=True)
def _own_folders() -> None:
    """Nor settings."""


@pytest.fixture(scope="session")
def encoded(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """A source clip by the name of its kind."""
    folder = tmp_path_factory.mktemp("encodes")
    by_name = {kind.name: kind for kind in (*KINDS, *ODDITIES)}

    def get(name: str) -> Path:
        path = folder / name
        return path if path.exists() else encode(by_name[name], folder)

    return get


@pytest.fixture(scope="session")
def processed(
    encoded: Callable[[str], Path], tmp_path_factory: pytest.TempPathFactory
) -> Callable[[str], Processed]:
    """What came of a clip, by the name of its kind."""
    folder = tmp_path_factory.mktemp("processed")
    by_name = {kind.name: kind for kind in (*KINDS, *ODDITIES)}
    done: dict[str, Processed] = {}

    def get(name: str) -> Processed:
        if name not in done:
            progress: list[float] = []
            source, out = encoded(name), folder / name
            made = process(source, out, on_progress=progress.append, limits=Limits())
            done[name] = Processed(by_name[name], source, out, made, progress)
        return done[name]

    return get
