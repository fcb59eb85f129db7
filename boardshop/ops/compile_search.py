"""Compiles the search for places ahead, in a process of its own, so that nobody waits for it later.

    python -m boardshop.ops.compile_search

It takes about half a minute of one core on a machine where it was not done, and a second where it was.
"""

import contextlib
import os
import subprocess
import sys
from pathlib import Path

from boardshop.core.placing.answers import Wishes
from boardshop.core.plan import BoardPlan, Frame, Pedal

ROOT = Path(__file__).resolve().parents[2]
POLITE = 10
"""The server that starts beside it comes first."""


def compile_search() -> None:
    """Places one small pedal, which needs all that is compiled."""
    # Loaded here, as the server that starts this process does without the compiler.
    from boardshop.core.placing.proposal import propose_layout

    plan = BoardPlan(frame=Frame(100, 100), pedals=(Pedal("P1", "other", 50, 50),))
    propose_layout(plan, Wishes(seconds=1))


def start_compiling() -> "subprocess.Popen[bytes] | None":
    """Begins it and does not wait; None where no process can be started, and then the first search waits."""
    with contextlib.suppress(OSError):
        return subprocess.Popen(
            [sys.executable, "-m", "boardshop.ops.compile_search"],
            cwd=ROOT,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            start_new_session=True,
        )
    return None


if __name__ == "__main__":
    os.nice(POLITE)
    compile_search()
