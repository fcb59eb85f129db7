"""Every address has a name, and every name stands in a test file."""

import re
from collections.abc import Iterator
from typing import Any

from django.urls import URLPattern, get_resolver

from tests.house.tree import files_of_tests


def patterns(entries: Any, prefix: str = "") -> Iterator[tuple[str, str | None]]:
    for entry in entries:
        route = prefix + str(entry.pattern)
        if isinstance(entry, URLPattern):
            yield route, entry.name
        else:
            yield from patterns(entry.url_patterns, route)


def unnamed_in(names: set[str], texts: list[str]) -> set[str]:
    """The names that stand in none of the texts as a quoted word."""
    quoted = {word for text in texts for word in re.findall(r"""["']([a-z0-9:_-]+)["']""", text)}
    return names - quoted


def test_every_address_has_a_name() -> None:
    assert [route for route, name in patterns(get_resolver().url_patterns) if not name] == []


def test_every_name_stands_in_a_test() -> None:
    names = {name for _, name in patterns(get_resolver().url_patterns) if name}
    texts = [path.read_text(encoding="utf-8") for path in files_of_tests() if path.name.startswith("test_")]
    assert names
    assert unnamed_in(names, texts) == set()


def test_a_name_that_no_test_holds_is_seen() -> None:
    assert unnamed_in({"feed-pedal", "healthz"}, ["reverse('feed-pedal')", "# healthz"]) == {"healthz"}
