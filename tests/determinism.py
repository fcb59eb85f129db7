"""Runs a program under several hash seeds: what it prints must not depend on the order of any set."""

import os
import subprocess
import sys
from collections.abc import Sequence

from tests.house.tree import ROOT

SEEDS = ("0", "1", "2", "4294967295")


def outputs(arguments: Sequence[str], seeds: Sequence[str] = SEEDS) -> dict[str, bytes]:
    """What `python ARGUMENTS` prints under each seed, with its exit code in front."""
    found = {}
    for seed in seeds:
        environment = os.environ | {"PYTHONHASHSEED": seed}
        command = [sys.executable, *arguments]
        answer = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, check=False)
        found[seed] = b"%d\n" % answer.returncode + answer.stdout + answer.stderr
    return found


def depends_on_seed(arguments: Sequence[str], seeds: Sequence[str] = SEEDS) -> bool:
    return len(set(outputs(arguments, seeds).values())) > 1
