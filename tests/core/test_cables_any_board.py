"""Cables and tone of any board that the format allows: no plan raises, and every figure hangs together."""

import json

from hypothesis import HealthCheck, given, settings

from boardshop.core.boardfile import load_plan_text
from boardshop.core.cables import CablesSection, compute_cables, link_capacitances, measure_runs
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan
from boardshop.core.tone import compute_curves, compute_tone
from tests.core.random_boards import documents
from tests.core.test_cables_cut_plan import check_held, check_lengths


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_every_allowed_board(document: dict[str, object]) -> None:
    """One test for all checks: making the boards takes longer than judging them."""
    plan = load_plan_text(json.dumps(document))
    section = compute_cables(plan)
    check_runs(plan, section)
    check_lengths(plan, section.cut_plan)
    check_held(plan, section.cut_plan)
    check_tone(plan)
    assert all(finding.message and finding.cure and finding.basis for finding in section.findings)


def check_runs(plan: BoardPlan, section: CablesSection) -> None:
    assert len(section.runs) == sum(link.length is None and link.made is None for link in plan.links)
    assert section.cut_total_mm == sum(run.cut_mm or 0 for run in section.runs)
    for run in section.runs:
        assert not (run.blocked_by and run.path_mm is not None)
        assert run.path_mm is not None or (run.cut_mm, run.pf, run.corners) == (None, None, ())
    for measured in measure_runs(plan):
        legs = zip(measured.points, measured.points[1:], strict=False)
        assert all(ax == bx or ay == by for (ax, ay), (bx, by) in legs)


def check_tone(plan: BoardPlan) -> None:
    section, pf = compute_tone(plan), link_capacitances(plan)
    assert len(section.sources) == len(plan.sources)
    assert all(finding.message and finding.cure and finding.basis for finding in section.findings)
    for tone, source in zip(section.sources, plan.sources, strict=True):
        for segment in tone.segments:
            known = [pf[fold(ref)] for ref in segment.links]
            assert segment.pf is None or segment.pf >= sum(value or 0 for value in known)
        state = tone.all_bypassed
        assert state is None or state.pf == tone.segments[0].pf
        assert all(len(curve.db) == 2 for curve in compute_curves(plan, source, (100, 1000)))
