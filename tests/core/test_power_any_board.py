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
from boardshop.core.power import compute_power, is_wrongly_fed, judge_feed, list_choices, make_feeding
from boardshop.core.power.loads import add_up_supply, known_load
from tests.core.random_boards import documents

ANY_BOARD = settings(
    max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True
)


@ANY_BOARD
@given(documents())
def test_every_allowed_board_has_a_power_section(document: dict[str, object]) -> None:
    plan = load_plan_text(json.dumps(document))
    section = compute_power(plan)
    assert len(section.outlets) == sum(len(supply.outlets) for supply in plan.supplies)
    assert len(section.drops) == sum(len(feed.jacks) for feed in plan.feeds)
    assert not {row.to.casefold() for row in section.drops} & {ref.casefold() for ref in section.unfed}
    assert all(finding.message and finding.cure and finding.basis for finding in section.findings)


@ANY_BOARD
@given(documents())
def test_what_supplies_carry_is_what_the_jacks_draw(document: dict[str, object]) -> None:
    """Series outlets each carry the whole; everything else adds up to the jacks' own loads."""
    plan = load_plan_text(json.dumps(document))
    feeding = make_feeding(plan)
    drawn = sum((add_up_supply(feeding, supply).load_ma for supply in plan.supplies), Fraction(0))
    expected = sum(known_load(c) * (len(c.taps) if c.joining == "series" else 1) for c in feeding.connections)
    assert drawn == expected


@ANY_BOARD
@given(documents())
def test_every_feed_of_every_allowed_board_can_be_tried_elsewhere(document: dict[str, object]) -> None:
    plan = load_plan_text(json.dumps(document))
    feeding = make_feeding(plan)
    for feed, connection in zip(plan.feeds, feeding.connections, strict=True):
        assert isinstance(judge_feed(plan, feed), tuple)
        assert is_wrongly_fed(feeding, connection, connection.jacks[0]) in (True, False, None)
        for choice in list_choices(plan, connection.jacks[0].ref)[:3]:
            assert choice.verdict


@ANY_BOARD
@given(documents())
def test_the_breaks_of_every_allowed_board_leave_no_loop(document: dict[str, object]) -> None:
    plan = load_plan_text(json.dumps(document))
    section, graph = compute_grounds(plan), map_grounds(plan)
    assert len(section.cycle_basis) == len(section.breaks) == section.loops == count_loops(graph.edges)
    assert recount_without(graph, section.breaks).loops == 0


SAY_ALL = """
from boardshop.core.grounds import compute_grounds
from boardshop.core.power import compute_power, list_choices
from tests.core.test_grounds import two_amps_and_a_laptop
from tests.core.test_power_sharing import circuits
plan = two_amps_and_a_laptop()
noisy = circuits(("fuzz", "analog"), ("delay", "digital"), ("chorus", "clocked"), ("delay", None))
print(compute_power(plan), compute_grounds(plan), compute_power(noisy), list_choices(noisy, "P2.DC"))
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
