"""What is installed comes from the reader's own registry settings, and is what the locks pin."""

import re
from pathlib import Path

import pytest

from tests.house.tree import ROOT, shown

GLOBS = (
    "requirements*",
    ".ci/*",
    "Makefile",
    "Dockerfile*",
    "docker-compose*",
    ".python-version",
    ".dockerignore",
)
FILES = sorted(path for pattern in GLOBS for path in ROOT.glob(pattern))
LOCKS = sorted(ROOT.glob("requirements*.txt"))


def addresses(text: str) -> list[str]:
    return re.findall(
        r"\b(?:https?|git\+|ssh|ftp|file)://\S+|--(?:extra-)?index-url\S*|--find-links\S*", text
    )


def unpinned(text: str) -> list[str]:
    """Requirements without an exact version or without a hash."""
    entries = [
        entry for entry in re.split(r"\n(?=\S)", text.replace("\\\n", " ")) if not entry.startswith("#")
    ]
    return [
        entry
        for entry in entries
        if entry.strip() and not re.match(r"\S+==\S+.*--hash=sha256:", entry, re.DOTALL)
    ]


def test_the_files_are_there() -> None:
    names = {path.name for path in FILES}
    assert {"requirements.txt", "requirements-dev.txt", "run", "Makefile", "Dockerfile"} <= names


@pytest.mark.parametrize("path", FILES, ids=shown)
def test_no_address_is_written_down(path: Path) -> None:
    assert addresses(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", LOCKS, ids=shown)
def test_every_package_is_pinned_with_hashes(path: Path) -> None:
    assert unpinned(path.read_text(encoding="utf-8")) == []


def test_the_larger_lock_holds_the_smaller() -> None:
    def pins(name: str) -> set[str]:
        return set(re.findall(r"^\S+==\S+", (ROOT / name).read_text(encoding="utf-8"), re.MULTILINE))

    assert pins("requirements.txt") <= pins("requirements-dev.txt")


@pytest.mark.parametrize(
    "line", ["pip install --index-url x", "curl https://example.test/a", "a @ git+ssh://b/c"]
)
def test_an_address_is_seen(line: str) -> None:
    assert addresses(line) != []


def test_a_loose_package_is_seen() -> None:
    assert unpinned("a==1.0 \\\n    --hash=sha256:00\nb>=2\n") == ["b>=2\n"]
