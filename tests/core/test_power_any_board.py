"""Power and grounds of any board that the format allows: no plan raises, and the same plan says the same."""

import json
import os
import subprocess
import sys
from fractions import Fraction

from hypothesis import HealthCheck, given, settings

from boardshop.core.boardfile import load_plan_text
from boardshop.core.grounds import compute_grounds, map_grounds, recount_without
from boardshop.core.loops import count_loops
from boardshop.core.plan import BoardPlan
from boardshop.core.power import compute_power, is_wrongly_fed, judge_feed, list_choices, make_feeding
from boardshop.core.power.loads import add_up_supply, known_load
from tests.core.random_boards import documents


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_every_allowed_board(document: dict[str, object]) -> None:
    """One test for all four checks: making the boards takes longer than judging them."""
    plan = load_plan_text(json.dumps(document))
    check_section(plan)
    check_sums(plan)
    check_trying_feeds(plan)
    check_breaks(plan)


def check_section(plan: BoardPlan) -> None:
    section = compute_power(plan)
    assert len(section.outlets) == sum(len(supply.outlets) for supply in plan.supplies)
    assert len(section.drops) == sum(len(feed.jacks) for feed in plan.feeds)
    assert not {row.to.casefold() for row in section.drops} & {ref.casefold() for ref in section.unfed}
    assert all(finding.message and finding.cure and finding.basis for finding in section.findings)


def check_sums(plan: BoardPlan) -> None:
    """Series outlets each carry the whole; everything else adds up to the jacks' own loads."""
    feeding = make_feeding(plan)
    drawn = sum((add_up_supply(feeding, supply).load_ma for supply in plan.supplies), Fraction(0))
    wholes = (known_load(c) * (len(c.taps) if c.joining == "series" else 1) for c in feeding.connections)
    assert drawn == sum(wholes)


def check_trying_feeds(plan: BoardPlan) -> None:
    feeding = make_feeding(plan)
    for feed, connection in zip(plan.feeds, feeding.connections, strict=True):
        assert isinstance(judge_feed(plan, feed), tuple)
        assert is_wrongly_fed(feeding, connection, connection.jacks[0]) in (True, False, None)
        assert all(choice.verdict for choice in list_choices(plan, connection.jacks[0].ref)[:3])


def check_breaks(plan: BoardPlan) -> None:
    section, graph = compute_grounds(plan), map_grounds(plan)
    assert len(section.cycle_basis) == len(section.breaks) == section.loops == count_loops(graph.edges)
    assert recount_without(graph, section.breaks).loops == 0


SAY_ALL = """
from boardshop.core.grounds import compute_grounds, list_cures
from boardshop.core.power import compute_power, list_choices
from tests.core.test_grounds import two_amps_and_a_laptop
from tests.core.test_power_sharing import circuits
plan = two_amps_and_a_laptop()
noisy = circuits(("fuzz", "analog"), ("delay", "digital"), ("chorus", "clocked"), ("delay", None))
print(compute_power(plan), compute_grounds(plan), compute_power(noisy), list_choices(noisy, "P2.DC"))
print(list_cures(plan), list_cures(noisy))
"""


def test_the_same_board_says_the_same_whatever_the_hash_seed() -> None:
    said = set()
    for seed in ("1", "2"):
        environment = {**os.environ, "PYTHONHASHSEED": seed}
        result = subprocess.run(
            [sys.executable, "-c", SAY_ALL], env=environment, capture_output=True, text=True, check=True
        )
        said.add(result.stdout)
    assert len(said) == 1
