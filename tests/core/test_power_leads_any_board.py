"""Leads on whatever board the format allows: no crash, no lead given twice, no unknown taken to fit."""

from collections import Counter
from typing import Any

from hypothesis import HealthCheck, given, settings

from boardshop.core.plan import BoardPlan
from boardshop.core.power.lead_list import list_leads_to_take
from boardshop.core.power.leads import assign_leads
from tests.core.documents import load
from tests.core.random_boards import documents

ANY_BOARD = settings(
    max_examples=150, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True
)


def without_leads(document: dict[str, Any]) -> BoardPlan:
    """So that every feed waits for one."""
    for feed in document.get("feeds") or ():
        feed.pop("lead", None)
    return load(document)


@ANY_BOARD
@given(documents())
def test_every_feed_has_one_answer(document: dict[str, Any]) -> None:
    for plan in (load(document), without_leads(document)):
        found = assign_leads(plan)
        assert [one.feed for one in found.feeds] == list(plan.feeds)
        for one in found.feeds:
            answers = [answer for answer in (one.recorded, one.chosen, one.to_get) if answer is not None]
            assert len(answers) == 1 or (one.is_captive and not answers)
            assert (one.need.mm is None) == bool(one.need.lacks)


@ANY_BOARD
@given(documents())
def test_no_lead_is_given_twice_and_each_is_long_enough(document: dict[str, Any]) -> None:
    found = assign_leads(without_leads(document))
    given_out = Counter(one.chosen for one in found.feeds if one.chosen is not None)
    for heap, times in given_out.items():
        alike = sum(other.left for other in found.heaps if other == heap)
        assert times <= alike
    assert all((one.spare_mm or 0) >= 0 for one in found.feeds if one.chosen)


@ANY_BOARD
@given(documents())
def test_the_list_counts_every_lead_once(document: dict[str, Any]) -> None:
    plan = load(document)
    listed = list_leads_to_take(plan)
    free = [one for one in assign_leads(plan).feeds if not one.is_captive]
    assert sum(line.count for line in listed.lines) == len(free)
    jacks = sorted(jack for line in listed.lines for jack in line.jacks)
    assert jacks == sorted(jack for one in free for jack in one.feed.jacks)
