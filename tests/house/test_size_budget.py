"""What outgrows a reader's eye is split by meaning: view 25 lines, function 40, module 400, template 150."""

import ast
from pathlib import Path

import pytest

from tests.house.tree import ROOT, files_of_tests, modules, shown, templates

VIEW_LINES = 25
FUNCTION_LINES = 40
MODULE_LINES = 400
TEMPLATE_LINES = 150


def is_view(function: ast.FunctionDef | ast.AsyncFunctionDef) -> bool:
    arguments = [*function.args.posonlyargs, *function.args.args]
    return bool(arguments) and arguments[0].arg == "request"


def long_functions(source: str) -> list[str]:
    """Functions over their budget, from `def` to the last line; decorators do not count."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            lines = (node.end_lineno or node.lineno) - node.lineno + 1
            budget = VIEW_LINES if is_view(node) else FUNCTION_LINES
            if lines > budget:
                found.append(f"{node.name} has {lines} lines, {budget} allowed")
    return found


def line_count(path: Path) -> int:
    return len(path.read_text(encoding="utf-8").splitlines())


@pytest.mark.parametrize("path", modules(), ids=shown)
def test_functions_and_views_keep_their_budget(path: Path) -> None:
    assert long_functions(path.read_text(encoding="utf-8")) == []


def test_modules_keep_their_budget() -> None:
    scripts = sorted((ROOT / "static" / "js").rglob("*.js"))
    sizes = {shown(path): line_count(path) for path in [*modules(), *files_of_tests(), *scripts]}
    assert {path: lines for path, lines in sizes.items() if lines > MODULE_LINES} == {}


def test_templates_keep_their_budget() -> None:
    sizes = {shown(path): line_count(path) for path in templates()}
    assert {path: lines for path, lines in sizes.items() if lines > TEMPLATE_LINES} == {}


@pytest.mark.parametrize(("first", "lines", "is_long"), [("a", 40, 0), ("a", 41, 1), ("request", 26, 1)])
def test_a_long_function_is_seen(first: str, lines: int, is_long: int) -> None:
    source = f"def f({first}):\n" + "    pass\n" * (lines - 1)
    assert len(long_functions(source)) == is_long
