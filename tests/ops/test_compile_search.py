"""Compiling ahead: the search is compiled in a process of its own, and the server does not load it."""

import os
import subprocess
import sys
from pathlib import Path

from boardshop.ops import compile_search

ROOT = Path(__file__).parents[2]


def test_a_process_of_its_own_compiles(tmp_path, monkeypatch):
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    process = compile_search.start_compiling()
    assert process is not None
    assert process.wait(timeout=300) == 0
    kept = {path.name.split(".")[1].split("-")[0] for path in tmp_path.rglob("*.nbi")}
    assert {"run_steps", "settle", "whole_cost"} <= kept


def test_no_process_is_no_reason_not_to_serve(monkeypatch):
    def refuse(*args, **kwargs):
        raise OSError("no more processes")

    monkeypatch.setattr(subprocess, "Popen", refuse)
    assert compile_search.start_compiling() is None


def test_a_folder_that_cannot_be_written_is_no_reason_not_to_search(tmp_path):
    """Compiled in every process then; numba is told of no folder that it may write."""
    script = (
        "from numba.core import caching; caching.CacheImpl._locator_classes = [];"
        "from boardshop.core.placing.compiled import compiled;"
        "print(compiled(lambda: 42)())"
    )
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        cwd=ROOT,
        env=os.environ,
        check=False,
        timeout=120,
    )
    assert (done.stdout, done.returncode) == (b"42\n", 0)


def test_the_server_does_not_load_the_compiler():
    script = "import sys, boardshop.ops.compile_search; print('numba' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, cwd=ROOT, check=False, timeout=60
    )
    assert done.stdout == b"False\n"
