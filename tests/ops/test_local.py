"""`make run` and `make stop` once the packages are there: twice, after kills, with the port taken."""

import os
import re
import signal
import socket
import stat
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from boardshop.ops import postgres
from boardshop.ops.local import NEXT_PORTS
from boardshop.ops.probe import is_well
from boardshop.ops.processes import is_alive
from tests.house.tree import ROOT

READY = re.compile(r"Boardshop runs at http://localhost:(\d+)")


class Local:
    """One data folder and the `make run` processes that use it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.started: list[subprocess.Popen[str]] = []
        self.port = free_port()

    def environment(self) -> dict[str, str]:
        kept = {name: value for name, value in os.environ.items() if not name.startswith("BOARDSHOP_")}
        return kept | {"BOARDSHOP_DATA_DIR": str(self.folder), "BOARDSHOP_PORT": str(self.port)}

    def run(self) -> "subprocess.Popen[str]":
        command = [sys.executable, "-u", "-m", "boardshop.ops.local", "run"]
        log = (self.folder / f"run-{len(self.started)}.log").open("w")
        process = subprocess.Popen(
            command, cwd=ROOT, env=self.environment(), stdout=log, stderr=log, text=True
        )
        self.started.append(process)
        return process

    def said(self) -> str:
        return (self.folder / f"run-{len(self.started) - 1}.log").read_text()

    def run_until_ready(self) -> int:
        process = self.run()
        until = time.monotonic() + 60
        while not (found := READY.search(self.said())) or "Ctrl-C" not in self.said():
            assert process.poll() is None, self.said()
            assert time.monotonic() < until, self.said()
            time.sleep(0.05)
        return int(found[1])

    def stop(self) -> str:
        command = [sys.executable, "-m", "boardshop.ops.local", "stop"]
        answer = subprocess.run(
            command, cwd=ROOT, env=self.environment(), capture_output=True, text=True, check=True
        )
        return answer.stdout.strip()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@pytest.fixture(scope="module")
def prepared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Local]:
    """A data folder with database and demo, so that each test only starts and ends servers."""
    local = Local(tmp_path_factory.mktemp("var with spaces"))
    yield local
    local.stop()
    for process in local.started:
        process.wait(20)


@pytest.fixture
def local(prepared: Local) -> Iterator[Local]:
    yield prepared
    prepared.stop()


def test_it_runs_once_says_where_and_is_stopped(local: Local) -> None:
    port = local.run_until_ready()
    process, said = local.started[-1], local.said()
    assert port == local.port
    for step in ("PostgreSQL", "Database tables", "Demo", "Static files", "Server"):
        assert re.search(rf"^{step} +\d+\.\d s", said, re.MULTILINE)
    account = local.folder / "demo-account"
    assert account.read_text().strip() in said
    assert stat.S_IMODE(account.stat().st_mode) == 0o600

    assert local.run().wait(60) == 0
    assert f"already runs at http://localhost:{port}" in local.said()
    assert is_well(port)

    assert local.stop() == "Boardshop has ended."
    assert process.wait(20) == 0
    assert not is_well(port)
    assert not postgres.is_running(local.folder, "run")
    assert local.stop() == "Nothing was running."


def test_a_taken_port_gives_the_next_free_one_and_ctrl_c_ends_it(local: Local) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", local.port))
        other.listen()
        port = local.run_until_ready()
    assert local.port < port < local.port + NEXT_PORTS
    assert f"Port {local.port} is taken, so Boardshop uses {port}." in local.said()
    local.started[-1].send_signal(signal.SIGINT)
    assert local.started[-1].wait(20) == 0
    assert not is_well(port)
    assert not postgres.is_running(local.folder, "run")


def test_it_starts_again_after_a_kill_of_everything_and_stop_finds_orphans(local: Local) -> None:
    local.run_until_ready()
    database = int((local.folder / "pg-run/data/postmaster.pid").read_text().split()[0])
    for pid in (local.started[-1].pid, database):
        os.kill(pid, signal.SIGKILL)
    local.started[-1].wait(10)
    port = local.run_until_ready()
    assert is_well(port)
    assert "is taken" not in local.said()
    local.started[-1].kill()
    local.started[-1].wait(10)
    assert local.stop() == "Boardshop has ended."
    assert not is_well(port)


def test_a_killed_server_ends_the_run(local: Local) -> None:
    local.run_until_ready()
    found = re.search(r'"server": (\d+)', (local.folder / "server.json").read_text())
    assert found
    os.killpg(int(found[1]), signal.SIGKILL)
    assert local.started[-1].wait(20) == 1
    assert "The server ended by itself, with status -9." in local.said()
    assert not is_alive(int(found[1]))


@pytest.mark.long
def test_a_database_of_ones_own_is_used_instead(local: Local, tmp_path: Path) -> None:
    url = postgres.start(tmp_path, "run")
    try:
        command = [sys.executable, "-m", "boardshop.ops.local", "run"]
        other = Local(tmp_path)
        environment = other.environment() | {"BOARDSHOP_DATABASE_URL": url}
        with (tmp_path / "log").open("w") as log:
            process = subprocess.Popen(command, cwd=ROOT, env=environment, stdout=log, stderr=log)
        until = time.monotonic() + 60
        while not is_well(other.port) and time.monotonic() < until:
            time.sleep(0.05)
        assert is_well(other.port), (tmp_path / "log").read_text()
        process.terminate()
        assert process.wait(20) == 0
        assert postgres.is_running(tmp_path, "run")
    finally:
        postgres.stop(tmp_path, "run")
