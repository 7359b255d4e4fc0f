"""Imports go one way, and the pure packages know no Django."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
COMMON = "coachdesk/common"  # everybody may import it
APPS = [COMMON, "athletes", "programming", "reviews", "coachdesk"]
PURE = ["reviews/media", "reviews/motion", "coachdesk/demo/drawing", "programming/load"]
WINGS = {
    "reviews": ["media", "motion", "intake", "library", "desk", "replies"],
    "programming": ["movements", "load", "logs", "plans", "corrections"],
}
DJANGO = {"django", "rest_framework", "celery", "allauth"}


def imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: write imports in full"
            yield node.module or ""


def modules(folder: str) -> list[Path]:
    return [p for p in (ROOT / folder).rglob("*.py") if "migrations" not in p.parts]


def app_of(name: str) -> str:
    return COMMON if f"{name}.".startswith("coachdesk.common.") else name.split(".")[0]


@pytest.mark.parametrize("app", APPS)
def test_apps_import_only_what_stands_before_them(app: str) -> None:
    later = set(APPS[APPS.index(app) + 1 :])
    wrong = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in modules(app)
        for name in imported(path)
        if app_of(name) in later
    ]
    assert not wrong


@pytest.mark.parametrize(("app", "wing"), [(a, w) for a, wings in WINGS.items() for w in wings])
def test_wings_import_only_what_stands_before_them(app: str, wing: str) -> None:
    wings = WINGS[app]
    later = {f"{app}.{name}" for name in wings[wings.index(wing) + 1 :]}
    wrong = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in modules(f"{app}/{wing}")
        for name in imported(path)
        if ".".join(name.split(".")[:2]) in later
    ]
    assert not wrong


@pytest.mark.parametrize("folder", PURE)
def test_pure_packages_import_no_django(folder: str) -> None:
    wrong = [
        f"{path.relative_to(ROOT)} imports {name}"
        for path in modules(folder)
        for name in imported(path)
        if name.split(".")[0] in DJANGO | {"athletes"}
        or (name.split(".")[0] == "coachdesk" and not name.startswith(folder.replace("/", ".")))
    ]
    assert not wrong


# What may use the demo, and nothing of the product: its own command, the figures and the tests.
DEMO = ["coachdesk/demo/", "coachdesk/benchmarks/", "coachdesk/management/commands/demo.py"]


def test_nothing_of_the_product_imports_the_demo() -> None:
    wrong = [
        f"{path.relative_to(ROOT)} imports {name}"
        for app in APPS
        for path in modules(app)
        if not str(path.relative_to(ROOT)).startswith(tuple(DEMO))
        for name in imported(path)
        if name.startswith("coachdesk.demo")
    ]
    assert not wrong
