"""The frame's own parts under its top: solid and crossed from below, dashed from above."""

from dataclasses import replace

from boardshop.boards.drawing import draw_board, draw_underside
from boardshop.core.plan import BoardPlan, Member
from tests.core import builders as b

CROSSBAR = Member(0, 150, 600, 20, "crossbar")


def crossed() -> BoardPlan:
    return b.board(b.pedal("P1", at=(100, 100)), frame=b.frame(members=(CROSSBAR, Member(0, 0, 30, 30))))


def test_from_below_they_are_named_and_can_be_measured_from() -> None:
    svg = draw_underside(crossed())
    assert 'data-thing="member 1"' in svg
    assert 'data-thing="member 2"' in svg
    assert "crossbar 600×20" in svg
    assert "Crossed: parts of the frame under its top (crossbar)" in svg


def test_from_above_they_are_dashed() -> None:
    svg = draw_board(crossed())
    assert svg.count('class="d-member is-under"') == 2
    assert "part of the frame 30×30" in svg


def test_a_frame_without_them_draws_none() -> None:
    plain = replace(crossed(), frame=b.frame())
    assert "d-member" not in draw_board(plain) + draw_underside(plain)
