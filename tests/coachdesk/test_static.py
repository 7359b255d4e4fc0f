"""What a browser is served: every file under a hashed name, every module import settled."""

import re
from pathlib import Path

import pytest
from django.contrib.staticfiles.storage import staticfiles_storage
from django.core.management import call_command


@pytest.fixture
def collected(settings, tmp_path: Path) -> Path:
    settings.STATIC_ROOT = tmp_path / "static"
    settings.STORAGES = {
        **settings.STORAGES,
        "staticfiles": {"BACKEND": "coachdesk.staticfiles.HashedStaticStorage"},
    }
    call_command("collectstatic", interactive=False, verbosity=0)
    return tmp_path / "static"


def test_hashed_modules_import_hashed_modules_that_exist(collected: Path) -> None:
    hashed = re.compile(r"\.[0-9a-f]{12}\.js$")
    modules = [path for path in (collected / "js").rglob("*.js") if hashed.search(path.name)]
    assert len(modules) > 20
    statement = re.compile(r"""^(?:import|export)\b[^;]*?['"](\.[^'"]+)['"]\s*;""", re.MULTILINE)
    for module in modules:
        for target in statement.findall(module.read_text()):
            assert hashed.search(target), f"{module.name} imports {target}"
            assert (module.parent / target).resolve().exists(), f"{module.name} imports {target}"


def test_settings_use_the_hashed_storage_by_default() -> None:
    from coachdesk.settings import STORAGES

    assert STORAGES["staticfiles"]["BACKEND"] == "coachdesk.staticfiles.HashedStaticStorage"
    assert staticfiles_storage.url("css/base.css").startswith("/static/")
