from io import StringIO

import pytest
from django.core.management import call_command
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

pytestmark = pytest.mark.django_db


def test_models_and_migrations_agree() -> None:
    out = StringIO()
    try:
        call_command("makemigrations", "--check", "--dry-run", stdout=out)
    except SystemExit:
        pytest.fail(out.getvalue())


def test_every_migration_has_a_name_that_says_something() -> None:
    loader = MigrationExecutor(connection).loader
    names = [
        name for app, name in loader.disk_migrations if loader.migrated_apps and _is_ours(loader, app, name)
    ]
    assert names
    assert [name for name in names if "_auto_" in name] == []


def _is_ours(loader: object, app: str, name: str) -> bool:
    return loader.disk_migrations[app, name].__module__.startswith("boardshop.")  # type: ignore[attr-defined]
