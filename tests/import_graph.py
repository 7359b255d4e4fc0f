"""Which module of the project uses which: imports anywhere in a file, also inside functions, and
what is named by a string."""

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
APPS = ["athletes", "programming", "reviews", "coachdesk"]
# What these are given is a module or a model, and as good as an import of it.
BY_NAME = {"get_model", "import_module", "import_string"}


@cache
def modules() -> dict[str, Path]:
    """Every module and package of the project by its dotted name, migrations left out."""
    found = {}
    for app in APPS:
        for path in (ROOT / app).rglob("*.py"):
            if "migrations" not in path.parts:
                parts = path.relative_to(ROOT).with_suffix("").parts
                found[".".join(parts).removesuffix(".__init__")] = path
    return found


def module_of(name: str) -> str | None:
    """The longest part of a dotted name that is a module of the project."""
    while name and name not in modules():
        name = name.rpartition(".")[0]
    return name or None


def imported(path: Path) -> Iterator[str]:
    """Dotted names as they are imported, of whatever project: "django.db.models"."""
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: write imports in full"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Call) and _called(node) in BY_NAME:
            yield from _named_in(node, path)


def _called(node: ast.Call) -> str:
    return node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")


def _named_in(call: ast.Call, path: Path) -> Iterator[str]:
    """The module or model that the call names; where it names none in so many words, every module
    that a string of the file names."""
    given = [arg.value for arg in call.args if isinstance(arg, ast.Constant)]
    if given:
        name = ".".join(map(str, given))
        label, _, model = name.rpartition(".")
        yield models_by_label().get((label, model.lower()), name)
        return
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Constant) and node.value in modules():
            yield node.value


@cache
def models_by_label() -> dict[tuple[str, str], str]:
    """The module of each model, by (label of its app, its name in lower case)."""
    found = {}
    for name, path in modules().items():
        if "models" in name.split("."):
            for node in ast.parse(path.read_text()).body:
                if isinstance(node, ast.ClassDef):
                    label = "common" if name.startswith("coachdesk.common") else name.split(".")[0]
                    found[label, node.name.lower()] = name
    return found


@cache
def uses(module: str) -> frozenset[str]:
    """The modules of the project that this one imports."""
    found = {module_of(name) for name in imported(modules()[module])}
    return frozenset(name for name in found if name and name != module)


def strings_naming_modules(module: str) -> Iterator[str]:
    """Modules that a string names, whatever it is for: a task, a setting, a model of a relation."""
    for node in ast.walk(ast.parse(modules()[module].read_text())):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            words = node.value.split(".")
            if len(words) > 1 and words[0] in APPS and all(map(str.isidentifier, words)):
                name = module_of(node.value) or words[0]
                if "." in name or words[1][0].isupper():  # "athletes.User"; not a file's name
                    yield name


def reached_from(module: str) -> set[str]:
    """What it imports, directly or not."""
    seen: set[str] = set()
    waiting = [module]
    while waiting:
        for name in uses(waiting.pop()) - seen:
            seen.add(name)
            waiting.append(name)
    return seen


def circles() -> list[list[str]]:
    """Modules that import each other, directly or not (Tarjan's strongly connected components)."""
    order: dict[str, int] = {}
    lowest: dict[str, int] = {}
    stack: list[str] = []
    found: list[list[str]] = []

    def visit(name: str) -> None:
        order[name] = lowest[name] = len(order)
        stack.append(name)
        for other in uses(name):
            if other not in order:
                visit(other)
                lowest[name] = min(lowest[name], lowest[other])
            elif other in stack:
                lowest[name] = min(lowest[name], order[other])
        if lowest[name] == order[name]:
            at = stack.index(name)
            component = sorted(stack[at:])
            del stack[at:]
            if len(component) > 1:
                found.append(component)

    for name in modules():
        if name not in order:
            visit(name)
    return found
