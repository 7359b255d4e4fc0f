"""Imports go one way and never in a circle, pure packages know no Django, names occur once."""

from collections import defaultdict
from pathlib import Path

import pytest

from tests.import_graph import (
    circles,
    imported,
    modules,
    reached_from,
    strings_naming_modules,
    uses,
)

COMMON = "coachdesk.common"  # everybody may import it
APPS = [COMMON, "athletes", "programming", "reviews", "coachdesk"]
PURE = ["reviews.media", "reviews.motion", "coachdesk.demo.drawing", "programming.load"]
WINGS = {
    "reviews": ["media", "motion", "intake", "library", "desk", "replies"],
    "programming": ["movements", "load", "logs", "plans", "corrections"],
}
# Wings of athletes stand beside each other, on what the app says about people.
PEOPLE = ["athletes.models", "athletes.permissions", "athletes.local_time"]
ATHLETES_WINGS = ["mail", "tokens", "webhooks"]
DJANGO = {"django", "rest_framework", "celery", "allauth"}

# Each exception with its reason. One that is no longer needed fails, too.
BACK: dict[tuple[str, str], str] = {}
BACK_THROUGH_ROOT = {
    "programming.permissions": "to be mended: one file for all wings; each gets its own",
    "programming.models": "to be mended: a wing's models are imported from the wing",
    "reviews.permissions": "to be mended: one file for all wings; each gets its own",
}


CIRCLES = {
    (
        "programming.plans.models.correction",
        "programming.plans.models.prescription",
    ): "never at run time: a line is annotated with the changes that are fetched with it",
}


def inside(name: str, *packages: str) -> bool:
    return any(name == package or name.startswith(f"{package}.") for package in packages)


def app_of(name: str) -> str:
    return COMMON if inside(name, COMMON) else name.split(".")[0]


def of(package: str) -> list[str]:
    return [name for name in modules() if inside(name, package) and app_of(name) == app_of(package)]


@pytest.mark.parametrize("app", APPS)
def test_apps_use_only_what_stands_before_them(app: str) -> None:
    later = set(APPS[APPS.index(app) + 1 :])
    wrong = [
        f"{module} uses {name}"
        for module in of(app)
        for name in {*uses(module), *strings_naming_modules(module)}
        if app_of(name) in later
    ]
    assert not wrong


@pytest.mark.parametrize(("app", "wing"), [(a, w) for a, wings in WINGS.items() for w in wings])
def test_wings_use_only_what_stands_before_them(app: str, wing: str) -> None:
    later = [f"{app}.{name}" for name in WINGS[app][WINGS[app].index(wing) + 1 :]]
    wrong = [
        f"{module} uses {name}"
        for module in of(f"{app}.{wing}")
        for name in {*uses(module), *strings_naming_modules(module)}
        if inside(name, *later) and (module, name) not in BACK
    ]
    assert not wrong


@pytest.mark.parametrize(("app", "wing"), [(a, w) for a, wings in WINGS.items() for w in wings])
def test_no_wing_reaches_a_later_one_through_the_root_of_its_app(app: str, wing: str) -> None:
    wings = [f"{app}.{name}" for name in WINGS[app]]
    later = wings[WINGS[app].index(wing) + 1 :]
    wrong = [
        f"{module} uses {root}, which uses {name}"
        for module in of(f"{app}.{wing}")
        for root in uses(module)
        if app_of(root) == app and not inside(root, *wings) and root not in BACK_THROUGH_ROOT
        for name in {root, *reached_from(root)}
        if inside(name, *later)
    ]
    assert not wrong


@pytest.mark.parametrize("wing", ATHLETES_WINGS)
def test_wings_of_athletes_stand_on_people_alone(wing: str) -> None:
    wrong = [
        f"{module} uses {name}"
        for module in of(f"athletes.{wing}")
        for name in uses(module)
        if inside(name, "athletes") and not inside(name, f"athletes.{wing}", *PEOPLE)
    ]
    assert not wrong
    back = [name for people in PEOPLE for name in uses(people) if inside(name, f"athletes.{wing}")]
    assert not back


def test_every_exception_is_needed() -> None:
    for module, name in BACK:
        assert name in uses(module)
    for root in BACK_THROUGH_ROOT:
        app = app_of(root)
        wings = [f"{app}.{wing}" for wing in WINGS[app]]
        assert any(root in uses(module) for wing in wings for module in of(wing))


def test_what_is_named_by_a_string_is_seen() -> None:
    assert {f"athletes.{wing}.models" for wing in ATHLETES_WINGS} <= uses("athletes.apps")


def test_no_modules_import_each_other_in_a_circle() -> None:
    assert {tuple(circle) for circle in circles()} == set(CIRCLES)


@pytest.mark.parametrize("package", PURE)
def test_pure_packages_import_no_django(package: str) -> None:
    wrong = [
        f"{module} imports {name}"
        for module in of(package)
        for name in imported(modules()[module])
        if name.split(".")[0] in DJANGO | {"athletes"}
        or (inside(name, "coachdesk") and not inside(name, package))
    ]
    assert not wrong


# What may use the demo, and nothing of the product: its own command, the figures and the tests.
DEMO = ["coachdesk.demo", "coachdesk.benchmarks", "coachdesk.management.commands.demo"]


def test_nothing_of_the_product_imports_the_demo() -> None:
    wrong = [
        f"{module} uses {name}"
        for module in modules()
        if not inside(module, *DEMO)
        for name in uses(module)
        if inside(name, "coachdesk.demo")
    ]
    assert not wrong


# Every wing has these rooms; one that is a package holds a module for each of its nouns.
ROOMS = {
    *("models", "services", "selectors", "schemas", "api", "views", "forms", "permissions"),
    *("tasks", "urls", "admin", "apps", "templatetags", "middleware"),
}
# Names that Python or Django gives, and commands, which are named by what people type.
GIVEN = {"__init__", "__main__", "formats"}
# To be renamed or taken into a room. Nothing comes into this list; what is mended goes out.
TO_BE_RENAMED = {
    *("api_urls", "figures", "leaving", "limits", "queries", "services/apply_correction"),
}


def test_a_module_name_occurs_once() -> None:
    places: dict[str, list[str]] = defaultdict(list)
    for module, path in modules().items():
        parts = Path(*module.split(".")).parts
        if path.stem in ROOMS | GIVEN or "commands" in parts:
            continue
        room = next((part for part in reversed(parts[:-1]) if part in ROOMS), "")
        places[f"{room}/{path.stem}" if room else path.stem].append(module)
    twice = {name for name, where in places.items() if len(where) > 1}
    assert twice - TO_BE_RENAMED == set(), {name: places[name] for name in twice - TO_BE_RENAMED}
    assert TO_BE_RENAMED - twice == set(), "mended: take these out of the list"
