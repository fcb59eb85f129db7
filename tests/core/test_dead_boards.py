"""A board that cannot sound never reads as one without findings (common practice)."""

from collections.abc import Sequence

import pytest

from boardshop.core.order import compute_order
from boardshop.core.plan import BoardPlan, Link
from boardshop.core.power import compute_power
from tests.core import builders as b


def silent(plan: BoardPlan) -> list[tuple[str, tuple[str, ...]]]:
    return [(f.severity, f.subjects) for f in compute_order(plan).findings if f.rule == "O04"]


def dark(plan: BoardPlan) -> list[tuple[str, tuple[str, ...]]]:
    return [(f.severity, f.subjects) for f in compute_power(plan).findings if f.rule == "P30"]


def linked(links: Sequence[Link]) -> BoardPlan:
    return b.board(b.pedal("P1"), b.pedal("P2"), links=links)


WHOLE = b.chain("G1", "P1", "P2", "A1")


@pytest.mark.parametrize("missing", [0, 1, 2])
def test_any_missing_link_of_the_line_is_a_fault(missing: int) -> None:
    assert silent(linked([*WHOLE[:missing], *WHOLE[missing + 1 :]])) == [("fault", ("G1",))]


@pytest.mark.parametrize("links", [WHOLE, b.chain("G1", "A1"), ()])
def test_a_whole_line_or_none_begun_is_not(links: Sequence[Link]) -> None:
    assert silent(linked(links)) == []


def test_a_chain_that_ends_in_a_di_leaves_for_the_desk() -> None:
    plan = b.board(b.pedal("P1"), b.pedal("P2", "di"), links=b.chain("G1", "P1", "P2"))
    assert silent(plan) == []


def test_a_board_without_an_amp_on_record_is_not_judged() -> None:
    assert silent(b.board(b.pedal("P1"), links=b.chain("G1", "P1"), amps=())) == []


def test_each_instrument_is_followed_by_itself() -> None:
    plan = b.board(b.pedal("P1"), sources=[b.guitar("G1"), b.guitar("G2")], links=b.chain("G1", "P1", "A1"))
    assert silent(plan) == [("fault", ("G2",))]


def test_jacks_that_nothing_feeds_are_one_fault() -> None:
    plan = b.board(*(b.pedal(ref) for ref in ("P1", "P2", "P3")), supplies=[b.supply("S1")])
    assert dark(plan) == [("fault", ("P1.DC", "P2.DC", "P3.DC"))]


def test_a_fed_jack_and_a_battery_wait_for_nothing() -> None:
    plan = b.board(
        b.pedal("P1"),
        b.pedal("P2", battery=True),
        supplies=[b.supply("S1")],
        feeds=[b.feed("S1.1", "P1.DC")],
    )
    assert dark(plan) == []
