"""A `{#` comment that does not end on its line is printed as text (documentation of Django's templates)."""

from pathlib import Path

import pytest

from tests.house.tree import shown, templates


def unshut(source: str) -> list[int]:
    """The numbers of the lines whose comment runs on."""
    return [n for n, line in enumerate(source.splitlines(), 1) if line.count("{#") != line.count("#}")]


@pytest.mark.parametrize("path", templates(), ids=shown)
def test_every_comment_ends_on_its_line(path: Path) -> None:
    assert unshut(path.read_text(encoding="utf-8")) == []


def test_one_that_runs_on_is_seen() -> None:
    assert unshut("{# fine #}\n{# runs\n   on #}") == [2, 3]
