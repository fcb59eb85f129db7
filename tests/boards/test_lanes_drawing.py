"""The lanes as drawn: well-formed, everything once, lines that meet what they join, hostile names escaped."""

from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardshop.boards.drawing.lane_lines import trace_lines
from boardshop.boards.drawing.lane_sheet import CELL, LaneSheet
from boardshop.boards.drawing.lanes import draw_lanes
from boardshop.core.numbering import number_pedals
from boardshop.core.order.lane_grid import lay_out_lanes
from boardshop.core.order.lanes import find_lanes
from boardshop.core.plan import BoardPlan
from tests.core import builders as b
from tests.core.documents import load
from tests.core.order_wiring import LOOP_AMP, links, with_jacks
from tests.core.random_boards import documents
from tests.core.test_order_lanes import wild_plan

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = "</title><script>alert(1)</script>&\"'\x00"


def parse(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def drawn(plan: BoardPlan, **how: object) -> ElementTree.Element:
    return parse(draw_lanes(plan, number_pedals(plan), **how))


def texts(svg: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in svg.iter(f"{SVG}text")]


def switcher_plan() -> BoardPlan:
    """G1 -> P1 -> P2 -> A1.RETURN, P1 with a loop of P3, and A1 between its second send and return."""
    loops = {"SEND_1": "send", "RETURN_1": "return", "SEND_2": "send", "RETURN_2": "return"}
    pedals = (with_jacks("P1", "switcher", IN="in", OUT="out", **loops), b.pedal("P2"), b.pedal("P3"))
    wiring = links(
        "G1.OUT > P1.IN",
        "P1.SEND 1 > P3.IN",
        "P3.OUT > P1.RETURN 1",
        "P1.SEND 2 > A1.IN",
        "A1.SEND > P1.RETURN 2",
        "P1.OUT > P2.IN",
        "P2.OUT > A1.RETURN",
    )
    return b.board(*pedals, b.pedal("P4"), amps=(LOOP_AMP,), links=wiring)


def test_numbers_refs_links_and_jacks_are_each_shown_once() -> None:
    shown = texts(drawn(switcher_plan()))
    expected = ["1", "2", "3", "P1", "P2", "P3", "P4", *(f"W{n}" for n in range(1, 8))]
    expected += ["SEND 1", "RETURN 1", "SEND 2", "RETURN 2", "G1 OUT", "A1 IN", "A1 SEND", "A1 RETURN"]
    assert {words: shown.count(words) for words in expected} == dict.fromkeys(expected, 1)


def test_pedals_without_links_stand_in_a_row_of_their_own() -> None:
    svg = drawn(switcher_plan())
    apart = next(g for g in svg.iter(f"{SVG}g") if g.get("class") == "d-unplaced")
    assert texts(apart) == ["Not wired into the signal", "P4"]


def test_an_open_end_says_so_and_a_tuner_is_none() -> None:
    open_chain = b.board(b.pedal("P1"), links=b.chain("G1", "P1"))
    assert texts(drawn(open_chain)).count("open") == 1
    tuner = b.board(b.pedal("P1", "tuner"), links=b.chain("G1", "P1"))
    assert "open" not in texts(drawn(tuner))
    unfed = b.board(b.pedal("P1"), b.pedal("P2"), links=b.chain("P1", "P2"))
    assert texts(drawn(unfed)).count("open") == 2


def test_wrong_and_bypassed_pedals_are_told_by_line_and_in_words() -> None:
    plan = b.wired_board(b.pedal("P1"), b.pedal("P2"), b.pedal("P3"))
    svg = drawn(plan, wrong={"P1"}, bypassed={"P2"})
    kinds = [one.get("class") for one in svg.iter(f"{SVG}circle") if "d-balloon" in (one.get("class") or "")]
    assert kinds == ["d-balloon is-wrong", "d-balloon is-bypassed", "d-balloon"]
    said = [title.text or "" for title in svg.iter(f"{SVG}title")]
    assert any("stands elsewhere than suggested" in words for words in said)
    assert any("bypassed" in words for words in said)


def test_a_drawing_with_links_is_a_group_and_one_without_a_picture() -> None:
    plan = switcher_plan()
    assert drawn(plan).get("role") == "img"
    svg = drawn(plan, url=lambda ref: f"#{ref}")
    assert svg.get("role") == "group"
    addresses = [one.get("href") for one in svg.iter(f"{SVG}a")]
    assert sorted(addresses) == sorted(f"#{one.ref}" for one in (*plan.pedals, *plan.links))
    assert all(one.find(f"{SVG}title") is not None for one in svg.iter(f"{SVG}a"))


def test_long_names_are_cut_to_two_lines_and_kept_in_full_in_the_title() -> None:
    name = "Second Pass of the Extended Evening Edition"
    svg = drawn(b.wired_board(b.pedal("P1", name=name)))
    lines = [one for one in svg.iter(f"{SVG}text") if one.get("class") == "d-name"]
    assert len(lines) == 2
    assert (lines[1].text or "").endswith("…")
    assert any(name in (title.text or "") for title in svg.iter(f"{SVG}title"))


def test_hostile_names_are_escaped() -> None:
    plan = switcher_plan()
    pedals = tuple(replace(pedal, name=HOSTILE) for pedal in plan.pedals)
    svg = draw_lanes(replace(plan, name=HOSTILE, pedals=pedals), {}, url=lambda ref: f"#{HOSTILE}")
    assert "<script" not in svg
    parse(svg)


def test_no_lettering_is_smaller_than_it_can_be_read() -> None:
    sizes = [float(one.get("font-size", 0)) for one in drawn(switcher_plan()).iter(f"{SVG}text")]
    assert min(sizes) >= 12


def test_a_board_without_anything_is_drawn() -> None:
    assert texts(drawn(b.board())) == []


def sheet_of(plan: BoardPlan) -> LaneSheet:
    lanes = find_lanes(plan)
    return LaneSheet(lanes, lay_out_lanes(lanes))


@pytest.mark.parametrize("number", range(40))
def test_lines_are_upright_or_level_and_meet_the_pedals_they_join(number: int) -> None:
    sheet = sheet_of(wild_plan(number))
    for line in trace_lines(sheet):
        for (x0, y0), (x1, y1) in zip(line.points, line.points[1:], strict=False):
            assert x0 == x1 or y0 == y1
        if line.join.from_pedal:
            x, _ = sheet.point(line.join.source)
            assert line.points[0][0] == x + sheet.reach_of(line.join.source)
        if line.join.to_pedal:
            x, _ = sheet.point(line.join.target)
            assert abs(line.points[-1][0] - x) == sheet.reach_of(line.join.target)


@pytest.mark.parametrize("number", range(40))
def test_upright_lines_keep_clear_of_columns_and_of_each_other(number: int) -> None:
    sheet = sheet_of(wild_plan(number))
    for trunk in sheet.trunks.values():
        assert all(abs(trunk.x - sheet.middle(column)) > CELL / 2 for column in sheet.lefts)
    for one, other in combinations(sheet.trunks.values(), 2):
        if one.x == other.x:
            assert one.reach[1] < other.reach[0] or other.reach[1] < one.reach[0]


@given(documents())
def test_any_board_that_loads_is_drawn(document: dict[str, object]) -> None:
    plan = load(document)
    svg = drawn(plan)
    shown = [one.get("data-ref") for one in svg.iter() if one.get("data-ref")]
    assert sorted(shown) == sorted(pedal.ref for pedal in plan.pedals)


@given(st.integers(0, 2**32), st.sampled_from([0.5, 1.0]))
def test_any_wiring_is_drawn(number: int, fill: float) -> None:
    drawn(wild_plan(number, fill=fill))
