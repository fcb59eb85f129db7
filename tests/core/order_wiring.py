"""Wiring that the order tests draw by hand."""

from boardshop.core.findings import Finding
from boardshop.core.order import compute_order
from boardshop.core.plan import BoardPlan, EndJack, Jack, Link, Pedal
from tests.core.builders import amp, link, pedal

LOOP_AMP = amp(jacks=(EndJack("IN", "in"), EndJack("SEND", "send"), EndJack("RETURN", "return")))


def with_jacks(ref: str, kind: str = "other", **jacks: str) -> Pedal:
    """``with_jacks("P1", IN="in", OUT="out")``; ``_`` in a name stands for a space."""
    return pedal(ref, kind, jacks=tuple(Jack(n.replace("_", " "), role) for n, role in jacks.items()))


def links(*ends: str) -> tuple[Link, ...]:
    """``links("G1.OUT > P1.IN", ...)``."""
    pairs = [end.split(" > ") for end in ends]
    return tuple(link(f"W{i}", source, target) for i, (source, target) in enumerate(pairs, 1))


def findings_of(plan: BoardPlan, rule: str) -> list[Finding]:
    return [finding for finding in compute_order(plan).findings if finding.rule == rule]


def told(plan: BoardPlan, rule: str) -> list[tuple[str, tuple[str, ...]]]:
    return [(finding.severity, finding.subjects) for finding in findings_of(plan, rule)]
