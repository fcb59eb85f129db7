import os
import subprocess
import sys
import time
from pathlib import Path

import psycopg
import pytest

from boardshop.ops.management.commands.migrate_locked import MIGRATION_LOCK
from tests.house.tree import ROOT
from tests.ops.databases import empty_database

pytestmark = pytest.mark.django_db


def migrate(url: str, data: Path) -> "subprocess.Popen[str]":
    environment = os.environ | {"BOARDSHOP_DATABASE_URL": url, "BOARDSHOP_DATA_DIR": str(data)}
    command = [sys.executable, "manage.py", "migrate_locked", "--verbosity", "0"]
    return subprocess.Popen(command, cwd=ROOT, env=environment, stderr=subprocess.PIPE, text=True)


def applied(url: str) -> int:
    with psycopg.connect(url) as connection:
        row = connection.execute("select count(*) from django_migrations").fetchone()
        return row[0] if row else 0


def test_two_servers_that_start_at_once_both_succeed(tmp_path: Path) -> None:
    with empty_database("twice") as url:
        both = [migrate(url, tmp_path), migrate(url, tmp_path)]
        assert [process.communicate(timeout=60)[1] for process in both] == ["", ""]
        assert [process.returncode for process in both] == [0, 0]
        assert applied(url) > 10


def test_it_waits_while_another_process_migrates(tmp_path: Path) -> None:
    with empty_database("waits") as url:
        with psycopg.connect(url) as other:
            other.execute("select pg_advisory_lock(%s)", [MIGRATION_LOCK])
            process = migrate(url, tmp_path)
            until = time.monotonic() + 30
            waiting = "select count(*) from pg_locks where locktype = 'advisory' and not granted"
            while other.execute(waiting).fetchone() == (0,) and time.monotonic() < until:
                time.sleep(0.05)
            assert process.poll() is None
        assert process.wait(60) == 0
        assert applied(url) > 10
