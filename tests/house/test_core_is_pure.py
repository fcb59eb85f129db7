"""Core is arithmetic: it can be used, and trusted, without a framework, a database, a clock or dice."""

import ast
import subprocess
import sys

import pytest

from tests.house.tree import CODE, ROOT, dotted, imports_of, modules, shown

CORE = modules(CODE / "core")
NEVER_LOADED = {"django", "psycopg", "socket"}
NEVER_IMPORTED = {
    *NEVER_LOADED,
    *("asyncio", "ctypes", "http", "multiprocessing", "os", "secrets", "shutil", "sqlite3", "ssl"),
    *("subprocess", "tempfile", "threading", "time", "urllib", "uuid", "zoneinfo"),
}
CLOCK_OR_DICE = {
    *("date.today", "datetime.now", "datetime.today", "datetime.utcnow"),
    *("default_rng", "numpy.random.default_rng", "np.random.default_rng", "random.Random", "Random"),
}


def unsteady_calls(source: str) -> list[str]:
    """Calls that read a clock, or draw numbers that no seed fixes."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Call):
            continue
        name = ast.unparse(node.func)
        is_seeded = bool(node.args or node.keywords) and not name.startswith("date")
        if (name in CLOCK_OR_DICE or name.startswith(("random.", "np.random."))) and not is_seeded:
            found.append(f"line {node.lineno}: {name}()")
    return found


def loaded_after(code: str) -> set[str]:
    script = f"import sys\n{code}\nprint(*sorted(set(sys.modules) & {NEVER_LOADED!r}))"
    command = [sys.executable, "-c", script]
    return set(subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.split())


def test_all_of_core_loads_neither_framework_nor_database_nor_network() -> None:
    names = [dotted(path) for path in CORE if path.name != "__main__.py"]
    assert len(names) > 5
    assert loaded_after("\n".join(f"import {name}" for name in names)) == set()


def test_the_fresh_interpreter_would_show_them() -> None:
    assert loaded_after("import django.db.models") >= {"django"}
    assert loaded_after("import socket") == {"socket"}


def test_core_imports_nothing_that_reaches_outside() -> None:
    found = {
        f"{shown(path)} imports {name}"
        for path in CORE
        for name in imports_of(path)
        if name.split(".")[0] in NEVER_IMPORTED - ({"os"} if path.name == "__main__.py" else set())
    }
    assert found == set()


def test_core_reads_no_clock_and_draws_no_unseeded_number() -> None:
    found = {shown(path): unsteady_calls(path.read_text(encoding="utf-8")) for path in CORE}
    assert {path: calls for path, calls in found.items() if calls} == {}


@pytest.mark.parametrize("source", ["date.today()", "datetime.now(tz)", "random.random()", "Random()"])
def test_unsteady_calls_are_seen(source: str) -> None:
    assert len(unsteady_calls(source)) == 1


def test_a_seeded_generator_is_allowed() -> None:
    assert unsteady_calls("Random(7).random()\nnp.random.default_rng(seed)") == []
