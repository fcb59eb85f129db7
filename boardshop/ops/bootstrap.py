"""From nothing to a running app or a finished test run: `make run`, `make test` and their kin.

Runs under whatever Python is found first, to be able to say that it is too old:
standard library only, and nothing newer than Python 3.6.
"""

import ctypes
import fcntl
import glob
import hashlib
import json
import os
import shutil
import subprocess
import sys
import time
from typing import Any, Callable, Dict, List, Optional, Tuple

OLDEST = (3, 12)
ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
VENV = os.path.join(ROOT, ".venv")
VENV_PYTHON = os.path.join(VENV, "bin", "python")
STAMP = os.path.join(VENV, "installed.json")
UNFINISHED = os.path.join(VENV, "unfinished")
LOG_DIR = os.path.join(ROOT, "var", "log")
TEST_LOCK = os.path.join(ROOT, "var", "test.lock")

PANGO = {
    "libpango-1.0-0": "libpango-1.0.so.0",
    "libpangoft2-1.0-0": "libpangoft2-1.0.so.0",
    "libharfbuzz-subset0": "libharfbuzz-subset.so.0",
}
BROWSERS = ("chromium", "chromium-browser", "google-chrome")


class Trouble(Exception):
    """Something the reader has to do; its text is one sentence that says what."""


def main(arguments: List[str]) -> int:
    commands = {
        "run": run,
        "stop": stop,
        "test": test,
        "test-long": test_long,
        "lint": lint,
        "bench": bench,
    }  # type: Dict[str, Callable[[], int]]
    if len(arguments) != 1 or arguments[0] not in commands:
        print("usage: bootstrap.py " + "|".join(commands), file=sys.stderr)
        return 2
    os.chdir(ROOT)
    try:
        return commands[arguments[0]]()
    except Trouble as trouble:
        print("\n" + str(trouble), file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


def run() -> int:
    prepare("requirements.txt")
    step("System libraries for PDFs", add_pango)
    os.execv(VENV_PYTHON, [VENV_PYTHON, "-m", "boardshop.ops.local", "run"])


def stop() -> int:
    if not os.path.exists(VENV_PYTHON):
        print("Nothing runs: there is no .venv yet.")
        return 0
    return subprocess.call([VENV_PYTHON, "-m", "boardshop.ops.local", "stop"])


def test() -> int:
    prepare("requirements-dev.txt")
    step("System libraries for PDFs", add_pango)
    step("Browser for the tests", add_browser)
    faults_of_style = check_style()
    # Measured on two cores: 235 s with two processes, 325 s with one.
    workers = str(min(os.cpu_count() or 1, 4))
    # In the order of tests/conftest.py: left to itself, xdist leaves the files of few tests to the end, which
    # are the ones that walk every page in a browser.
    spread = ["-n", workers, "--dist", "loadfile", "--no-loadscope-reorder"]
    return run_tests(spread) or faults_of_style


def test_long() -> int:
    prepare("requirements-dev.txt")
    step("System libraries for PDFs", add_pango)
    step("Browser for the tests", add_browser)
    return run_tests(["-m", "long"])


def lint() -> int:
    prepare("requirements-dev.txt")
    return check_style()


def bench() -> int:
    prepare("requirements-dev.txt")
    return subprocess.call([VENV_PYTHON, "-m", "boardshop.ops.bench"])


def step(name: str, action: Callable[[], Optional[str]]) -> None:
    """Does one step and prints its seconds; what the action returns is said beside them."""
    if sys.stdout.isatty():
        print(name + " ...", end="\r", flush=True)
    began = time.time()
    try:
        note = action()
    except BaseException:
        say_step(name, began, "FAILED")
        raise
    say_step(name, began, note or "")


def say_step(name: str, began: float, note: str) -> None:
    print("{:<28}{:6.1f} s  {}".format(name, time.time() - began, note).rstrip(), flush=True)


def check_style() -> int:
    ruff = os.path.join(VENV, "bin", "ruff")
    mypy = os.path.join(VENV, "bin", "mypy")
    results = []  # type: List[int]
    for command in ([ruff, "check", "-q"], [ruff, "format", "--check", "-q"], [mypy, "--no-error-summary"]):
        name = " ".join([os.path.basename(command[0])] + command[1:2])
        began = time.time()
        results.append(subprocess.call(command))
        say_step(name, began, "FAILED" if results[-1] else "")
    return max(results)


def run_tests(options: List[str]) -> int:
    """pytest, and the end of the test cluster whatever pytest says, unless another run is still using it."""
    os.makedirs(os.path.dirname(TEST_LOCK), exist_ok=True)
    with open(TEST_LOCK, "a") as lock:
        fcntl.flock(lock, fcntl.LOCK_SH)
        try:
            return subprocess.call([VENV_PYTHON, "-m", "pytest", "-q", "-rs"] + options)
        finally:
            if is_last_user(lock):
                end_cluster = [VENV_PYTHON, "-m", "boardshop.ops.postgres", "stop", "test"]
                subprocess.call(end_cluster, stdout=subprocess.DEVNULL)


def is_last_user(lock: Any) -> bool:
    """Whether nobody else shares the lock; ours is exclusive then."""
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


# --- Python and its packages ---------------------------------------------------------------------


def prepare(lock: str) -> None:
    """A .venv that holds exactly what `lock` pins; quick if it already does."""
    wanted = fingerprint(lock)
    if is_installed(lock, wanted):
        return
    if not is_venv_usable():
        shutil.rmtree(VENV, ignore_errors=True)
        python = find_python()
        step("Python environment", lambda: make_venv(python))
    step("Packages, from the lock", lambda: install(lock, wanted))


def fingerprint(lock: str) -> str:
    with open(os.path.join(ROOT, lock), "rb") as file:
        return hashlib.sha256(file.read()).hexdigest()


def installed() -> Dict[str, str]:
    try:
        with open(STAMP, encoding="ascii") as file:
            found = json.load(file)
            return found if isinstance(found, dict) else {}
    except (OSError, ValueError):
        return {}


def is_installed(lock: str, wanted: str) -> bool:
    return installed().get(lock) == wanted and is_venv_usable()


def is_venv_usable() -> bool:
    """False also after an installation that was killed: half a package looks whole to pip."""
    return not os.path.exists(UNFINISHED) and (version_of(VENV_PYTHON) or (0, 0)) >= OLDEST


def version_of(python: str) -> Optional[Tuple[int, int]]:
    script = "import sys; print(sys.version_info[0], sys.version_info[1])"
    try:
        answer = subprocess.check_output([python, "-c", script], stderr=subprocess.DEVNULL, timeout=30)
        major, minor = answer.decode("ascii").split()
        return int(major), int(minor)
    except (OSError, ValueError, subprocess.SubprocessError):
        return None


def candidates() -> List[str]:
    """Where a Python may be, best first: the one asked for, then the version the project names."""
    with open(os.path.join(ROOT, ".python-version"), encoding="ascii") as file:
        named = file.read().strip()
    names = ["python" + named] + ["python3.{}".format(minor) for minor in (13, 14, 12)] + ["python3"]
    found = [shutil.which(name) or "" for name in names]
    home = os.path.expanduser("~")
    for folder in (".pyenv/versions", ".local/share/uv/python"):
        for version in (named, "3.13", "3.14", "3.12"):
            found += sorted(glob.glob(os.path.join(home, folder, "*" + version + "*", "bin", "python3")))
    asked = os.environ.get("BOARDSHOP_PYTHON", "").strip()
    return [asked] if asked else [path for path in found if path] + [sys.executable]


def find_python() -> str:
    too_old = []  # type: List[str]
    for path in candidates():
        version = version_of(path)
        if version and version >= OLDEST:
            return path
        if version:
            too_old.append("{}.{} at {}".format(version[0], version[1], path))
    raise Trouble(
        "Boardshop needs Python 3.12 or newer, and found {}: install it with"
        " `apt-get install python3 python3-venv` (Debian 13, Ubuntu 24.04 or newer),"
        " `brew install python@3.13` or `uv python install 3.13`,"
        " or name one in BOARDSHOP_PYTHON.".format(too_old[0] if too_old else "none")
    )


def make_venv(python: str) -> str:
    if subprocess.call([python, "-c", "import ensurepip, venv"], stderr=subprocess.DEVNULL) != 0:
        # Debian keeps them in a package of their own.
        add_debian_packages(["python3-venv"], "Python cannot make environments here")
    os.makedirs(VENV, exist_ok=True)
    mark_unfinished()
    run_quietly([python, "-m", "venv", VENV], "venv")
    version = version_of(VENV_PYTHON) or (0, 0)
    return "Python {}.{}".format(*version)


def mark_unfinished() -> None:
    with open(UNFINISHED, "w", encoding="ascii"):
        pass


def install(lock: str, wanted: str) -> str:
    mark_unfinished()
    command = [VENV_PYTHON, "-m", "pip", "install", "--disable-pip-version-check", "--no-input"]
    run_quietly(command + ["--require-hashes", "--only-binary", ":all:", "-r", lock], "pip")
    stamp = installed()
    stamp[lock] = wanted
    if lock == "requirements-dev.txt":
        # It holds the smaller lock whole.
        stamp["requirements.txt"] = fingerprint("requirements.txt")
    with open(STAMP, "w", encoding="ascii") as file:
        json.dump(stamp, file)
    os.remove(UNFINISHED)
    return lock


def run_quietly(command: List[str], name: str) -> None:
    """Runs with the output in a log; its end is shown if the command fails."""
    os.makedirs(LOG_DIR, exist_ok=True)
    path = os.path.join(LOG_DIR, name + ".log")
    with open(path, "wb") as log:
        code = subprocess.call(command, stdout=log, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL)
    if code != 0:
        with open(path, encoding="utf-8", errors="replace") as file:
            tail = "".join(file.readlines()[-15:])
        raise Trouble("{}\n`{}` failed; all it said is in {}.".format(tail, " ".join(command), path))


# --- Debian's packages ---------------------------------------------------------------------------


def is_library_there(name: str) -> bool:
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True


def add_pango() -> Optional[str]:
    """WeasyPrint needs Pango; without it the app runs, and only its PDFs say what is missing."""
    if sys.platform == "darwin":
        return None if glob.glob("/opt/homebrew/lib/libpango-1.0*") else "PDFs need: brew install pango"
    missing = [package for package, library in PANGO.items() if not is_library_there(library)]
    if not missing:
        return None
    try:
        return add_debian_packages(missing, "PDFs cannot be made yet")
    except Trouble as trouble:
        return str(trouble)


def add_browser() -> Optional[str]:
    if any(shutil.which(name) for name in BROWSERS) or sys.platform == "darwin":
        return None
    try:
        return add_debian_packages(["chromium"], "The browser tests cannot run yet")
    except Trouble as trouble:
        if os.environ.get("CI"):
            raise
        return str(trouble)


def add_debian_packages(packages: List[str], lack: str) -> str:
    """Installs them if we are root on a Debian; otherwise says the one line to type."""
    line = "apt-get install -y --no-install-recommends " + " ".join(packages)
    if os.geteuid() != 0 or not shutil.which("apt-get"):
        raise Trouble("{}; type: sudo {}".format(lack, line))
    environment = dict(os.environ, DEBIAN_FRONTEND="noninteractive")

    def apt(arguments: List[str]) -> Any:
        return subprocess.run(
            ["apt-get", "-q"] + arguments,
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
        )

    install_line = line.split()[1:]
    result = apt(install_line)
    if result.returncode != 0:
        # No package lists yet, or lists too old to fetch from.
        apt(["update"])
        result = apt(install_line)
    if result.returncode != 0:
        tail = result.stdout.decode("utf-8", "replace").strip().splitlines()[-1:]
        raise Trouble("{}; `{}` failed: {}".format(lack, line, " ".join(tail)))
    return "installed " + " ".join(packages)


if __name__ == "__main__":
    # The folder of this file would shadow modules of the standard library.
    sys.path.pop(0)
    sys.exit(main(sys.argv[1:]))
