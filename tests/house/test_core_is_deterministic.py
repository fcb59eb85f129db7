"""The same board gives the same report, byte for byte, whatever PYTHONHASHSEED says."""

import json
from pathlib import Path

import pytest

from tests.determinism import depends_on_seed, outputs
from tests.house.tree import ROOT, shown


def is_board(path: Path) -> bool:
    found = json.loads(path.read_text(encoding="utf-8"))
    return isinstance(found, dict) and found.get("format") == "boardshop-board"


BOARDS = [path for path in sorted((ROOT / "tests" / "core").rglob("*.json")) if is_board(path)]


@pytest.mark.parametrize("path", BOARDS, ids=shown)
def test_a_report_does_not_depend_on_the_hash_seed(path: Path) -> None:
    found = outputs(["-m", "boardshop.core", "report", str(path)], seeds=("0", "1", "2"))
    assert set(found.values()) == {found["0"]}
    assert len(found["0"]) > 200


def test_there_are_boards_to_try() -> None:
    assert BOARDS


def test_a_program_that_prints_a_set_is_seen() -> None:
    assert depends_on_seed(["-c", "print({'fuzz', 'delay', 'tuner', 'reverb', 'chorus'})"])
    assert not depends_on_seed(["-c", "print(sorted({'fuzz', 'delay', 'tuner', 'reverb', 'chorus'}))"])
