"""Starts the private test cluster when a test first asks for the database, and tidies it."""

import os
import re
from pathlib import Path

import psycopg
import pytest
from django.conf import settings
from hypothesis import settings as hypothesis_settings

from boardshop.ops import postgres
from boardshop.ops.processes import is_alive
from tests.chromium import browser_thread, in_browser  # noqa: F401  (fixtures)
from tests.factories import Cast, make_cast

# An example may take as long as it takes: a busy machine is no fault of what is tested.
hypothesis_settings.register_profile("by no clock", deadline=None)
hypothesis_settings.load_profile("by no clock")

COLLECTED = pytest.StashKey[set[Path]]()


def pytest_itemcollected(item: pytest.Item) -> None:
    """Keeps count of the files that tests come from, before any are deselected."""
    item.config.stash.setdefault(COLLECTED, set()).add(item.path)


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Longest files first, so that no process waits at the end for another one.

    Those that drive a browser, and of them the ones of few tests, which walk the whole program; then those of
    the database.
    """
    files: dict[Path, list[pytest.Item]] = {}
    for item in items:
        files.setdefault(item.path, []).append(item)
    items[:] = [item for tests in sorted(files.values(), key=_rank) for item in tests]


def _rank(tests: list[pytest.Item]) -> tuple[int, int]:
    if any(test.get_closest_marker("browser") for test in tests):
        return 0, len(tests)
    return (1 if any(test.get_closest_marker("django_db") for test in tests) else 2), 0


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings_parallel_suffix: None) -> None:
    if not (os.environ.get("BOARDSHOP_DATABASE_URL") or os.environ.get("BOARDSHOP_DATABASE_URL_FILE")):
        drop_left_over_databases(postgres.start(Path(settings.DATA_DIR), "test"))


def drop_left_over_databases(url: str) -> None:
    """A killed test run leaves its database behind; its name holds the number of its process."""
    with psycopg.connect(url, autocommit=True) as connection:
        for (name,) in connection.execute("select datname from pg_database").fetchall():
            owner = re.fullmatch(r"test_boardshop_(\d+).*", name)
            if owner and not is_alive(int(owner[1])):
                connection.execute(f'drop database if exists "{name}"')


@pytest.fixture
def cast(db: None) -> Cast:
    """Owner, editor and viewer of one shop, and a stranger who owns another."""
    return make_cast()
