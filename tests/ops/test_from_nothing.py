"""`make run` from a clean copy of the project: nothing installed, nothing cached, spaces in the path."""

import os
import re
import shutil
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.house.tree import ROOT
from tests.ops.test_local import READY, free_port

pytestmark = pytest.mark.long

LEFT_BEHIND = shutil.ignore_patterns(".venv", "var", ".git", "__pycache__", ".hypothesis", "staticfiles")
COLD_SECONDS = 60
WARM_SECONDS = 5


class Copy:
    def __init__(self, folder: Path) -> None:
        self.folder = folder
        kept = {name: value for name, value in os.environ.items() if not name.startswith("BOARDSHOP_")}
        # Not the environment that runs this test, but what a person has.
        kept["PATH"] = os.pathsep.join(
            part for part in kept["PATH"].split(os.pathsep) if str(ROOT) not in part
        )
        self.environment = kept | {"BOARDSHOP_PORT": str(free_port())}

    def make(self, target: str) -> int:
        return subprocess.call(["make", target], cwd=self.folder, env=self.environment)

    def seconds_to_first_page(self) -> tuple[float, str]:
        log = self.folder / "said.log"
        began = time.monotonic()
        with log.open("w") as file:
            run = subprocess.Popen(
                ["make", "run"], cwd=self.folder, env=self.environment, stdout=file, stderr=file
            )
        while not READY.search(log.read_text()):
            assert run.poll() is None, log.read_text()
            assert time.monotonic() - began < 600, log.read_text()
            time.sleep(0.02)
        return time.monotonic() - began, log.read_text()


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Copy]:
    folder = tmp_path_factory.mktemp("from nothing") / "board shop"
    shutil.copytree(ROOT, folder, ignore=LEFT_BEHIND)
    copy = Copy(folder)
    yield copy
    copy.make("stop")


def test_cold_and_then_warm(copy: Copy) -> None:
    """The installer's share depends on the registry and the line to it, so it is not counted."""
    cold, said = copy.seconds_to_first_page()
    found = re.search(r"Packages, from the lock +([\d.]+) s", said)
    assert found, said
    assert cold - float(found[1]) < COLD_SECONDS
    assert copy.make("stop") == 0
    warm, said = copy.seconds_to_first_page()
    assert "Packages" not in said
    assert warm < WARM_SECONDS
    print(f"cold {cold:.1f} s, of which packages {found[1]} s; warm {warm:.1f} s")
