"""`make run` and `make stop` once Python and the packages are there: database, demo, server."""

import contextlib
import fcntl
import hashlib
import io
import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import Any, NoReturn

import django
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.management import call_command, get_commands
from django.core.management.base import SystemCheckError
from django.db import connections

from boardshop.environment import PublicUrl
from boardshop.ops import postgres
from boardshop.ops.bootstrap import step
from boardshop.ops.compile_search import start_compiling
from boardshop.ops.probe import is_well
from boardshop.ops.processes import command_line, is_alive, is_process_in
from boardshop.ops.server import gunicorn_command

ROOT = Path(__file__).resolve().parents[2]
ENDINGS = (signal.SIGTERM, signal.SIGINT, signal.SIGHUP)
NEXT_PORTS = 30
READY_SECONDS = 60


class Ended(BaseException):
    """Somebody asked the server to end."""


class NotRunning(Exception):
    """The server could not be started, or did not stay; the text says why."""


def run() -> int:
    folder = Path(settings.DATA_DIR)
    folder.mkdir(parents=True, exist_ok=True)
    with _only_one(folder) as is_first:
        if not is_first:
            print(
                f"Boardshop already runs at {_state(folder).get('url', '(starting)')}; `make stop` ends it."
            )
            return 0
        for number in ENDINGS:
            signal.signal(number, _end)
        try:
            _end_orphan(folder)
            _prepare(folder)
            _serve(folder)
        except Ended:
            print("Ended.", flush=True)
            return 0
        finally:
            if not _has_own_database():
                postgres.stop(folder, "run")


def stop() -> int:
    folder = Path(settings.DATA_DIR)
    supervisor = _state(folder).get("supervisor", 0)
    if "boardshop.ops.local" in command_line(supervisor) and is_alive(supervisor):
        os.kill(supervisor, signal.SIGTERM)
        _wait_for_end(supervisor, 20)
    ended = [_end_orphan(folder), *(postgres.stop(folder, purpose) for purpose in postgres.PURPOSES)]
    print("Boardshop has ended." if supervisor or any(ended) else "Nothing was running.")
    (folder / "server.json").unlink(missing_ok=True)
    return 0


def _end(number: int, frame: FrameType | None) -> None:
    """The first request to end is enough; a second one must not interrupt the tidying up."""
    for ending in ENDINGS:
        signal.signal(ending, signal.SIG_IGN)
    raise Ended


@contextlib.contextmanager
def _only_one(folder: Path) -> Iterator[bool]:
    """Whether we are the only `make run` on this data folder; the lock goes when the process goes."""
    with (folder / "run.lock").open("a") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            yield False
        else:
            yield True


def _state(folder: Path) -> dict[str, Any]:
    try:
        found = json.loads((folder / "server.json").read_text())
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def _has_own_database() -> bool:
    return any(os.environ.get(f"BOARDSHOP_DATABASE_URL{end}", "").strip() for end in ("", "_FILE"))


def _wait_for_end(pid: int, seconds: float) -> bool:
    deadline = time.monotonic() + seconds
    while is_alive(pid) and time.monotonic() < deadline:
        time.sleep(0.05)
    return not is_alive(pid)


def _end_orphan(folder: Path) -> bool:
    """Ends a server whose `make run` was killed; True if there was one."""
    pid = _state(folder).get("server", 0)
    if not (is_process_in(pid, ROOT) and any("gunicorn" in part for part in command_line(pid))):
        return False
    os.kill(pid, signal.SIGTERM)
    if not _wait_for_end(pid, 10):
        os.killpg(pid, signal.SIGKILL)
    return True


def _prepare(folder: Path) -> None:
    step("Settings and addresses", _check)
    if not _has_own_database():
        step("PostgreSQL", lambda: _started(folder))
    step("Database tables", _migrate)
    step("Trash", _purge_trash)
    step("Demo", lambda: _load_demo(folder))
    step("Static files", lambda: _collect_static(folder))
    connections.close_all()


def _check() -> None:
    """Django's checks and ours; warnings are shown, an error ends the start."""
    call_command("check", stdout=io.StringIO())


def _started(folder: Path) -> None:
    postgres.start(folder, "run")


def _migrate() -> None:
    call_command("migrate_locked", verbosity=0)


def _purge_trash() -> str:
    said = io.StringIO()
    call_command("purge_trash", stdout=said)
    call_command("clearsessions")
    return " ".join(said.getvalue().split())


def _load_demo(folder: Path) -> str:
    """The demo goes into an empty database only; its account is kept where only we can read it."""
    if "load_demo" not in get_commands():
        return "none in this version"
    said = io.StringIO()
    call_command("load_demo", "--if-empty", stdout=said)
    if not said.getvalue().strip():
        return "not needed"
    file = folder / "demo-account"
    file.unlink(missing_ok=True)
    file.touch(mode=0o600)
    file.write_text(said.getvalue())
    return "loaded"


def _collect_static(folder: Path) -> str | None:
    from django.contrib.staticfiles.finders import get_finders

    digest = hashlib.sha256()
    for finder in get_finders():
        for path, storage in finder.list([]):
            facts = (path, storage.size(path), storage.get_modified_time(path).isoformat())
            digest.update(repr(facts).encode())
    stamp = Path(settings.STATIC_ROOT) / ".stamp"
    if stamp.exists() and stamp.read_text() == digest.hexdigest():
        return "unchanged"
    call_command("collectstatic", interactive=False, clear=True, verbosity=0)
    stamp.write_text(digest.hexdigest())
    return None


def _bound_socket(host: str, port: int) -> socket.socket:
    """A socket on the port, or on the next free one."""
    for number in range(port, min(port + NEXT_PORTS, 65536)):
        bound = socket.socket()
        bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            bound.bind((host, number))
        except OSError:
            bound.close()
            continue
        if number != port:
            print(f"Port {port} is taken, so Boardshop uses {number}.", flush=True)
        return bound
    raise NotRunning(
        f"No port from {port} to {port + NEXT_PORTS - 1} is free; set BOARDSHOP_PORT to another."
    )


def _serve(folder: Path) -> NoReturn:
    with _bound_socket("127.0.0.1" if settings.PUBLIC_URL.is_local else "0.0.0.0", settings.PORT) as bound:  # noqa: S104
        port = bound.getsockname()[1]
        server = _start_server(bound)
    if not os.environ.get("BOARDSHOP_PUBLIC_URL"):
        settings.PUBLIC_URL = PublicUrl("http", "localhost", f"http://localhost:{port}")
    url = settings.PUBLIC_URL.origin
    start_compiling()
    state = {"supervisor": os.getpid(), "server": server.pid, "url": url}
    (folder / "server.json").write_text(json.dumps(state))
    try:
        step("Server", lambda: _wait_until_ready(server, port))
        _say_where(folder, url)
        raise NotRunning(f"The server ended by itself, with status {server.wait()}.")
    finally:
        server.terminate()
        with contextlib.suppress(subprocess.TimeoutExpired):
            server.wait(10)
        (folder / "server.json").unlink(missing_ok=True)


def _start_server(bound: socket.socket) -> "subprocess.Popen[bytes]":
    environment = {**os.environ, "BOARDSHOP_PORT": str(bound.getsockname()[1])}
    return subprocess.Popen(
        gunicorn_command(f"fd://{bound.fileno()}"),
        cwd=ROOT,
        env=environment,
        pass_fds=[bound.fileno()],
        stdin=subprocess.DEVNULL,
        start_new_session=True,
    )


def _wait_until_ready(server: "subprocess.Popen[bytes]", port: int) -> None:
    deadline = time.monotonic() + READY_SECONDS
    while time.monotonic() < deadline:
        if server.poll() is not None:
            raise NotRunning("The server ended at once; the lines above say why.")
        if is_well(port):
            return
        time.sleep(0.05)
    raise NotRunning(f"The server did not answer within {READY_SECONDS} seconds.")


def _say_where(folder: Path, url: str) -> None:
    print(f"\nBoardshop runs at {url}", flush=True)
    call_command("announce_setup")
    connections.close_all()
    account = folder / "demo-account"
    if account.exists():
        print(account.read_text().rstrip(), flush=True)
    print("Ctrl-C or `make stop` ends it.", flush=True)


def main(arguments: list[str]) -> int:
    """Usage: python -m boardshop.ops.local run|stop"""
    commands = {"run": run, "stop": stop}
    if len(arguments) != 1 or arguments[0] not in commands:
        print(main.__doc__, file=sys.stderr)
        return 2
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "boardshop.settings")
    try:
        django.setup()
        return commands[arguments[0]]()
    except (ImproperlyConfigured, NotRunning, SystemCheckError, postgres.ClusterError) as error:
        print(f"\n{error}", file=sys.stderr)
        return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
