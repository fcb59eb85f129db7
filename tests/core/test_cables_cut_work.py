"""Cutting for several boards at once, and why a piece is short."""

import pytest

from boardshop.core.cables.cut_work import join_rules, kept_mm, plan_pieces, tell_short, wasted_mm
from boardshop.core.plan import Piece, Rules, StockLength


def offcut(mm: int, count: int = 1) -> StockLength:
    return StockLength("C1", mm, count, "offcut")


def test_pieces_of_two_boards_share_a_length():
    """One off-cut of 500: 10 of trim, then 200 + 2 + 250 + 2, and 36 are left."""
    pieces = [Piece("A W1", "C1", 200), Piece("B W1", "C1", 250)]
    plan = plan_pieces(pieces, [offcut(500)], Rules())
    (used,) = plan.used
    assert (used.pieces, used.left_mm, plan.short) == ((("B W1", 250), ("A W1", 200)), 36, ())


@pytest.mark.parametrize(("keep", "kept", "waste"), [(36, 36, 14), (37, 0, 50)])
def test_what_is_taken_is_made_kept_or_wasted(keep, kept, waste):
    pieces = [Piece("A W1", "C1", 200), Piece("B W1", "C1", 250)]
    rules = Rules(keep_offcut_mm=keep)
    plan = plan_pieces(pieces, [offcut(500)], rules)
    (used,) = plan.used
    assert (kept_mm(used, rules), wasted_mm(used, rules)) == (kept, waste)
    assert 450 + kept + waste == 500
    assert wasted_mm(used, rules) == plan.waste_mm


@pytest.mark.parametrize(
    ("stock", "reason", "longest"),
    [
        ([], "no stock", None),
        ([StockLength("C2", 9000)], "no stock", None),
        ([StockLength("C1", 299)], "too long", 299),
        ([offcut(309)], "too long", 299),
        ([StockLength("C1", 300)], "used up", 300),
        ([StockLength("C1", 120), offcut(310)], "used up", 300),
    ],
)
def test_why_a_piece_is_short(stock, reason, longest):
    pieces = [Piece("X1", "C1", 300), Piece("X2", "C1", 300)]
    plan = plan_pieces(pieces, stock, Rules())
    short = tell_short(pieces, stock, Rules(), plan)
    assert (short[-1].ref, short[-1].reason, short[-1].longest_mm) == ("X2", reason, longest)


def test_the_rules_of_several_boards_promise_none_more_than_its_own():
    joined = join_rules([Rules(kerf_mm=1, trim_mm=20, keep_offcut_mm=100), Rules(kerf_mm=3, trim_mm=5)])
    assert (joined.kerf_mm, joined.trim_mm, joined.keep_offcut_mm) == (3, 20, 130)
    assert join_rules([]) == Rules()
