"""Each system check of ours is shown at work, and found by its id in a test."""

import re

import pytest
from django.core.checks import run_checks

from boardshop.ops.checks import check_unknown_settings
from tests.house.tree import files_of_tests, modules


def ids(text: str) -> set[str]:
    return set(re.findall(r"\bboardshop\.[EW]\d{3}\b", text))


def test_every_check_id_stands_in_a_test() -> None:
    ours = {name for path in modules() for name in ids(path.read_text(encoding="utf-8"))}
    tested = {name for path in files_of_tests() for name in ids(path.read_text(encoding="utf-8"))}
    assert ours
    assert ours - tested == set()


def test_all_checks_pass_here() -> None:
    assert run_checks() == []


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("BOARDSHOP_PROT", "Did you mean BOARDSHOP_PORT?"),
        ("BOARDSHOP_ZZZZZZ", "Settings: BOARDSHOP_DATABASE_URL"),
    ],
)
def test_unknown_setting_has_a_hint(monkeypatch: pytest.MonkeyPatch, name: str, hint: str) -> None:
    monkeypatch.setenv(name, "1")
    (warning,) = check_unknown_settings()
    assert warning.id == "boardshop.W001"
    assert warning.hint.startswith(hint)
