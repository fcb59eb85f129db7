"""Small wired boards for the tests of cables."""

from boardshop.core.cables import compute_cables, list_runs
from tests.core.builders import board, link, pedal


def pair(right=(300, 100), left=(100, 100), **values):
    """P1 on the right into P2 on the left: W1 from plug end (286, 186) to plug end (187, 186).

    Keys of a board go to the board, all others to the link.
    """
    keys = ("frame", "rules", "cables", "plugs", "supplies")
    parts = {key: values.pop(key) for key in keys if key in values}
    patch = link("W1", "P1.OUT", "P2.IN", **values)
    return board(pedal("P1", at=right), pedal("P2", at=left), links=(patch,), **parts)


def run_of(plan):
    (run,) = list_runs(plan)
    return run


def findings_of(plan, rule):
    return [finding for finding in compute_cables(plan).findings if finding.rule == rule]
