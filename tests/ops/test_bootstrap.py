"""What is done before there is any package: finding a Python, the environment, Debian's packages."""

import ast
import fcntl
import os
import subprocess
import sys
from contextlib import ExitStack
from pathlib import Path

import pytest

from boardshop.ops import bootstrap
from tests.house.tree import CODE, ROOT

SCRIPT = CODE / "ops" / "bootstrap.py"


def fake_python(path: Path, version: str) -> str:
    path.write_text(f"#!/bin/sh\necho {version}\n")
    path.chmod(0o755)
    return str(path)


def test_it_is_understood_by_an_old_python() -> None:
    ast.parse(SCRIPT.read_text(encoding="utf-8"), feature_version=(3, 6))


def test_it_needs_only_the_standard_library() -> None:
    """-I and -S leave nothing else on the path."""
    command = [sys.executable, "-I", "-S", str(SCRIPT)]
    answer = subprocess.run(command, capture_output=True, text=True, check=False)
    assert answer.returncode == 2
    assert answer.stderr.startswith("usage: bootstrap.py run|stop|test")


def test_the_first_python_that_is_new_enough_is_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    names = {"old": "3 11", "broken": "", "new": "3 12", "newer": "3 13"}
    paths = [fake_python(tmp_path / name, version) for name, version in names.items()]
    monkeypatch.setattr(bootstrap, "candidates", lambda: ["/nowhere", *paths])
    assert bootstrap.find_python() == str(tmp_path / "new")


def test_too_old_a_python_is_named_with_the_way_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BOARDSHOP_PYTHON", fake_python(tmp_path / "python3", "3 11"))
    with pytest.raises(bootstrap.Trouble) as caught:
        bootstrap.find_python()
    assert f"needs Python 3.12 or newer, and found 3.11 at {tmp_path}/python3" in str(caught.value)
    assert "apt-get install python3 python3-venv" in str(caught.value)


def test_the_version_that_the_project_names_is_looked_for_first(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("BOARDSHOP_PYTHON", raising=False)
    asked: list[str] = []
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name: asked.append(name))
    bootstrap.candidates()
    assert asked[0] == "python" + (ROOT / ".python-version").read_text().strip()


def test_an_installation_that_was_killed_is_not_trusted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bootstrap, "VENV_PYTHON", fake_python(tmp_path / "python", "3 13"))
    monkeypatch.setattr(bootstrap, "UNFINISHED", str(tmp_path / "unfinished"))
    assert bootstrap.is_venv_usable()
    (tmp_path / "unfinished").touch()
    assert not bootstrap.is_venv_usable()


def test_an_environment_is_unfinished_until_its_packages_are_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    venv = tmp_path / "venv"
    for name, value in (("VENV", venv), ("VENV_PYTHON", venv / "bin" / "python"), ("LOG_DIR", tmp_path)):
        monkeypatch.setattr(bootstrap, name, str(value))
    monkeypatch.setattr(bootstrap, "UNFINISHED", str(venv / "unfinished"))
    monkeypatch.setattr(bootstrap, "STAMP", str(venv / "installed.json"))
    (tmp_path / "nothing.txt").write_text("")
    bootstrap.make_venv(sys.executable)
    assert not bootstrap.is_venv_usable()
    bootstrap.install(str(tmp_path / "nothing.txt"), "its digest")
    assert bootstrap.is_installed(str(tmp_path / "nothing.txt"), "its digest")


def test_a_changed_lock_is_installed_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bootstrap, "STAMP", str(tmp_path / "stamp"))
    monkeypatch.setattr(bootstrap, "is_venv_usable", lambda: True)
    for stamp, expected in (
        ('{"requirements.txt": "a"}', True),
        ('{"requirements.txt": "b"}', False),
        ("{", False),
    ):
        (tmp_path / "stamp").write_text(stamp)
        assert bootstrap.is_installed("requirements.txt", "a") is expected


def test_without_root_the_line_to_type_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    with pytest.raises(bootstrap.Trouble) as caught:
        bootstrap.add_debian_packages(["libpango-1.0-0"], "PDFs cannot be made yet")
    assert str(caught.value) == (
        "PDFs cannot be made yet; type: sudo apt-get install -y --no-install-recommends libpango-1.0-0"
    )


def test_missing_pango_does_not_stop_the_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(bootstrap, "is_library_there", lambda name: "subset" not in name)
    assert bootstrap.add_pango() == (
        "PDFs cannot be made yet; type: sudo apt-get install -y --no-install-recommends libharfbuzz-subset0"
    )


@pytest.mark.parametrize(("is_ci", "stops"), [("", False), ("true", True)])
def test_a_missing_browser_stops_only_ci(monkeypatch: pytest.MonkeyPatch, is_ci: str, stops: bool) -> None:
    monkeypatch.setenv("CI", is_ci)
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name: None)
    if stops:
        with pytest.raises(bootstrap.Trouble, match="chromium"):
            bootstrap.add_browser()
    else:
        assert "chromium" in (bootstrap.add_browser() or "")


def test_a_failing_command_shows_the_end_of_its_log(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bootstrap, "LOG_DIR", str(tmp_path))
    with pytest.raises(bootstrap.Trouble, match=r"(?s)no such package.*all it said is in .*pip\.log"):
        bootstrap.run_quietly(["/bin/sh", "-c", "echo no such package; exit 1"], "pip")


def test_make_says_one_sentence_without_any_python() -> None:
    command = ["/usr/bin/make", "-C", str(ROOT), "run"]
    answer = subprocess.run(command, env={"PATH": "/nowhere"}, capture_output=True, text=True, check=False)
    assert answer.returncode != 0
    assert "Boardshop needs Python 3.12 or newer; on Debian 13 type:" in answer.stderr


@pytest.mark.parametrize(("others", "commands"), [(0, 2), (1, 1)], ids=["alone", "beside another run"])
def test_the_test_cluster_ends_with_the_last_run(
    others: int, commands: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    called: list[list[str]] = []
    monkeypatch.setattr(bootstrap, "TEST_LOCK", str(tmp_path / "var" / "test.lock"))
    monkeypatch.setattr(subprocess, "call", lambda command, **_: called.append(command) or 0)
    (tmp_path / "var").mkdir()
    with ExitStack() as stack:
        for _ in range(others):
            other = stack.enter_context((tmp_path / "var" / "test.lock").open("a"))
            fcntl.flock(other, fcntl.LOCK_SH)
        assert bootstrap.run_tests([]) == 0
    assert len(called) == commands
