"""Boards of plain bodies for the layout's tests, and what the layout section finds on them."""

from boardshop.core.layout import compute_layout
from boardshop.core.plan import Rules
from tests.core.builders import board, pedal

PLAIN = {"jacks": (), "switches": (), "power": ()}
"""A body alone, so that only bodies meet."""


def findings_of(plan, *rules):
    return [finding for finding in compute_layout(plan).findings if not rules or finding.rule in rules]


def rules_of(plan):
    return [finding.rule for finding in compute_layout(plan).findings]


def two(x, y=0, gap_mm=4, **second):
    """P1 at the front left corner, 73 x 130, and P2 at (x, y)."""
    pedals = pedal("P1", at=(0, 0), **PLAIN), pedal("P2", at=(x, y), **(PLAIN | second))
    return board(*pedals, rules=Rules(gap_mm=gap_mm))
