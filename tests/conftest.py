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
