"""No silent tests: whatever looks like a test on disk is collected."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.conftest import COLLECTED
from tests.house.tree import ROOT, files_of_tests, shown


def collected_files(config: pytest.Config) -> set[str]:
    """From this run if it took in the whole suite, else from one that only collects."""
    if config.args_source is pytest.Config.ArgsSource.TESTPATHS:
        return {shown(path) for path in config.stash[COLLECTED]}
    command = [sys.executable, "-m", "pytest", "--collect-only", "-q", "-m", "long or not long"]
    answer = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert answer.returncode == 0, answer.stdout[-2000:] + answer.stderr[-2000:]
    return {line.partition("::")[0] for line in answer.stdout.splitlines() if "::" in line}


def hidden_tests(files: dict[str, str]) -> list[str]:
    """Files that hold test functions under a name that pytest does not look at."""
    return [
        name
        for name, text in files.items()
        if re.search(r"^(async )?def test_|^class Test", text, re.MULTILINE)
        and not Path(name).name.startswith("test_")
    ]


def test_every_test_file_is_collected(pytestconfig: pytest.Config) -> None:
    on_disk = {shown(path) for path in files_of_tests() if path.name.startswith("test_")}
    assert on_disk - collected_files(pytestconfig) == set()


def test_no_test_hides_under_another_file_name() -> None:
    assert hidden_tests({shown(path): path.read_text(encoding="utf-8") for path in files_of_tests()}) == []


def test_a_hidden_test_is_seen() -> None:
    files = {"order_test.py": "def test_order(): ...", "test_order.py": "def test_order(): ..."}
    assert hidden_tests(files) == ["order_test.py"]
