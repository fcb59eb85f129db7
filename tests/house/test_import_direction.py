"""One direction between the apps: a change at the top never breaks what lies below."""

import pytest

from tests.house.tree import CODE, dotted, imports, imports_of, modules, shown

BELOW: dict[str, set[str]] = {
    "core": set(),
    "crew": {"core"},
    "files": {"core", "crew"},
    "gear": {"core", "crew", "files"},
    "boards": {"core", "crew", "files", "gear"},
    "bench": {"core", "crew", "files", "gear", "boards"},
    "road": {"core", "crew", "files", "gear", "boards"},
    "stage": {"core", "crew", "files", "gear", "boards"},
    "papers": {"core", "crew", "files", "gear", "boards"},
}
BELOW["ops"] = set(BELOW)
SHARED = {"environment"}


def app_of(module: str) -> str | None:
    """`boardshop.gear.models` belongs to `gear`; what is not ours, or the package itself, to none."""
    parts = module.split(".")
    return parts[1] if parts[0] == "boardshop" and len(parts) > 1 else None


def wrong_imports(module: str, imported: set[str]) -> list[str]:
    app = app_of(module)
    if app is None or app not in BELOW:
        return []
    return sorted(
        f"{module} imports {name}"
        for name in imported
        if app_of(name) not in {None, app, "__version__"} | BELOW[app] | SHARED
    )


def test_every_app_has_a_place_in_the_order() -> None:
    apps = {path.name for path in CODE.iterdir() if (path / "__init__.py").exists()}
    assert apps <= set(BELOW), "a new app needs a line in BELOW"


def test_apps_import_only_what_lies_below_them() -> None:
    found = {shown(path): wrong_imports(dotted(path), imports_of(path)) for path in modules()}
    assert {path: names for path, names in found.items() if names} == {}


@pytest.mark.parametrize(
    ("module", "line"),
    [
        ("boardshop.core.order", "from boardshop.gear.models import PedalModel"),
        ("boardshop.core.order", "def f():\n    import boardshop.boards.models"),
        ("boardshop.gear.views", "from boardshop.boards import services"),
        ("boardshop.gear.views", "from ..boards import services"),
        ("boardshop.gear.views", "from boardshop import stage"),
        ("boardshop.crew.models", "from boardshop.gear.models import Unit"),
        ("boardshop.files.store", "from boardshop.gear.models import Unit"),
        ("boardshop.stage.views", "from boardshop.papers import labels"),
        ("boardshop.boards.views", "from boardshop.ops import doctor"),
        ("boardshop.gear.views", "from boardshop.settings import PORT"),
    ],
)
def test_a_wrong_import_is_seen(module: str, line: str) -> None:
    assert wrong_imports(module, set(imports(line, module))) != []


@pytest.mark.parametrize(
    ("module", "line"),
    [
        ("boardshop.gear.views", "from boardshop.core.plan import Pedal"),
        ("boardshop.gear.views", "from .services import add_unit"),
        ("boardshop.ops.local", "from boardshop.boards import services"),
        ("boardshop.papers.sheet", "from django.conf import settings"),
    ],
)
def test_a_right_import_is_let_through(module: str, line: str) -> None:
    assert wrong_imports(module, set(imports(line, module))) == []
