"""What a browser is served: every file under a hashed name, a page's modules as one."""

import json
import re
from pathlib import Path

import pytest
from django.conf import settings
from django.contrib.staticfiles.storage import staticfiles_storage
from django.core.management import call_command
from django.test import override_settings

from coachdesk.bundle import entries


@pytest.fixture(scope="module")
def collected(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("static")
    hashed = {"BACKEND": "coachdesk.staticfiles.HashedStaticStorage"}
    storages = {**settings.STORAGES, "staticfiles": hashed}
    with override_settings(STATIC_ROOT=folder, STORAGES=storages):
        call_command("collectstatic", interactive=False, verbosity=0)
    return folder


def test_a_page_asks_for_one_script_of_ours_and_none_is_collected_beside_it(
    collected: Path,
) -> None:
    made = {path.name for path in (collected / "js").rglob("*.js")}
    names = {Path(entry).stem for entry in entries() if entry.endswith(".js")}
    assert len(names) > 5
    assert {name.rsplit(".", 2)[0] for name in made} == names
    assert not [name for name in made if not re.search(r"\.[0-9a-f]{12}\.js$", name)]


def test_what_a_style_sheet_points_to_is_there_under_the_hashed_name(collected: Path) -> None:
    found = 0
    for sheet in (collected / "css").glob("*.css"):
        for target in re.findall(r"""url\(["']?([^"')]+)""", sheet.read_text()):
            found += 1
            assert (sheet.parent / target).resolve().exists(), f"{sheet.name}: {target}"
    assert found >= 4  # two faces, in two sheets


def test_a_script_names_its_source_map_which_is_there(collected: Path) -> None:
    for script in (collected / "js").rglob("*.js"):
        (name,) = re.findall(r"^//# sourceMappingURL=(\S+)$", script.read_text(), re.MULTILINE)
        assert json.loads((script.parent / name).read_text())["sources"]
        assert re.search(r"\.[0-9a-f]{12}\.map$", name)


def test_every_file_lies_there_small_too(collected: Path) -> None:
    scripts = list((collected / "js").rglob("*.js"))
    assert scripts
    assert not [path.name for path in scripts if not path.with_name(f"{path.name}.gz").exists()]


def test_settings_use_the_hashed_storage_by_default() -> None:
    from coachdesk.settings import STORAGES

    assert STORAGES["staticfiles"]["BACKEND"] == "coachdesk.staticfiles.HashedStaticStorage"
    assert staticfiles_storage.url("css/base.css").startswith("/static/")
