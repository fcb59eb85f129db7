"""The server in a container: waits for the database, migrates, and becomes gunicorn.

    python -m boardshop.ops.server

Any number of these may run on one database; they migrate one at a time.
"""

import os
import sys
import time

import django
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.management import call_command
from django.core.management.base import SystemCheckError
from django.db import OperationalError, connection, connections

from boardshop.ops.compile_search import start_compiling

WAIT_SECONDS = 60


def gunicorn_command(bind: str) -> list[str]:
    return [
        *(sys.executable, "-m", "gunicorn", "boardshop.wsgi", "--bind", bind),
        *("--worker-class", "gthread", "--workers", str(settings.WORKERS), "--threads", "4"),
        *("--no-control-socket", "--graceful-timeout", "5", "--log-level", "warning"),
        *_memory_folder("/dev/shm"),  # noqa: S108  (gunicorn makes its own file in it)
    ]


def _memory_folder(folder: str) -> list[str]:
    """Workers touch a file as their heartbeat; a slow disk there can stall them."""
    return ["--worker-tmp-dir", folder] if os.access(folder, os.W_OK) else []


def wait_for_database(seconds: float = WAIT_SECONDS) -> None:
    """Raises the last OperationalError if nothing has answered by then."""
    deadline = time.monotonic() + seconds
    while True:
        try:
            connection.ensure_connection()
        except OperationalError:
            if time.monotonic() > deadline:
                raise
            time.sleep(0.5)
        else:
            return


def prepare() -> list[str]:
    """Migrates, shows the set-up link while nobody has an account, and returns the command that serves."""
    django.setup()
    call_command("check")
    wait_for_database()
    call_command("migrate_locked")
    call_command("purge_trash")
    call_command("clearsessions")
    call_command("announce_setup")
    connections.close_all()
    start_compiling()
    return gunicorn_command(f"0.0.0.0:{settings.PORT}")


def main() -> int:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "boardshop.settings")
    try:
        command = prepare()
    except (ImproperlyConfigured, SystemCheckError, OperationalError) as error:
        print(error, file=sys.stderr)
        return 1
    sys.stdout.flush()
    return os.execv(command[0], command)


if __name__ == "__main__":
    sys.exit(main())
