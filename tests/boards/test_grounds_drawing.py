"""The grounds as drawn: everything once, letters where loops run, nothing on another, no markup let in."""

import json
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

from hypothesis import HealthCheck, given, settings

from boardshop.boards.drawing.ground_sheet import BOX, GroundSheet, list_joined
from boardshop.boards.drawing.grounds import draw_grounds
from boardshop.core.boardfile import load_plan_text
from boardshop.core.grounds import map_grounds, trace_loops
from boardshop.core.index import index_plan
from boardshop.core.numbering import number_pedals
from boardshop.core.plan import BoardPlan
from tests.core import builders as b
from tests.core.random_boards import documents
from tests.core.test_grounds_cures import worked_example

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = "</title><script>alert(1)</script>&\"'\x00"


def units_of(plan: BoardPlan) -> tuple[str, ...]:
    groups = (plan.sources, plan.pedals, plan.amps, plan.computers)
    return list_joined(map_grounds(plan), (part.ref for group in groups for part in group))


def drawn(plan: BoardPlan, *opened: str) -> ElementTree.Element:
    graph = map_grounds(plan)
    loops = trace_loops(plan, graph.without(opened))
    svg = draw_grounds(
        graph,
        loops,
        index_plan(plan),
        units_of(plan),
        numbers=number_pedals(plan),
        opened=[ref.casefold() for ref in opened],
    )
    return ElementTree.fromstring(svg)


def of_class(svg: ElementTree.Element, name: str) -> dict[str, ElementTree.Element]:
    found = [group for group in svg.iter(f"{SVG}g") if group.get("class") == name]
    refs = [group.get("data-of") or group.get("data-ref") or "" for group in found]
    assert len(set(refs)) == len(refs)
    return dict(zip(refs, found, strict=True))


def texts(element: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in element.iter(f"{SVG}text")]


def letters_of(svg: ElementTree.Element) -> dict[str, str]:
    return {
        ref: text.text or ""
        for ref, group in of_class(svg, "d-join").items()
        for text in group.iter(f"{SVG}text")
        if text.get("class") == "d-sign"
    }


def test_every_unit_and_every_join_is_drawn_once() -> None:
    plan = worked_example()
    svg = drawn(plan)
    assert set(of_class(svg, "d-unit")) == {"G1", "P1", "P2", "P3", "P4", "A1", "A2", "M1"}
    assert set(of_class(svg, "d-join")) == {join.ref for join in map_grounds(plan).joins}
    assert set(of_class(svg, "d-return")) == {"S1/A"}


def test_the_letters_are_those_of_the_loops() -> None:
    """Written by hand from the worked example: A, B the two returns, C the amps, D the laptop."""
    assert letters_of(drawn(worked_example())) == {
        "W2": "A",
        "W3": "B",
        "W4": "D",
        "W5": "C D",
        "W6": "C",
        "W7": "D",
        "P1.DC": "A",
        "P2.DC": "A B",
        "P3.DC": "B",
        "A1": "C D",
        "A2": "C",
        "M1": "D",
    }


def test_a_join_tried_open_is_dashed_has_no_dot_and_takes_its_loop_away() -> None:
    svg = drawn(worked_example(), "P2.DC", "W6")
    joins = of_class(svg, "d-join")
    assert [path.get("class") for path in joins["P2.DC"].iter(f"{SVG}path")] == ["d-ghost"]
    assert list(joins["P2.DC"].iter(f"{SVG}circle")) == []
    assert len(list(joins["P1.DC"].iter(f"{SVG}circle"))) == 1
    assert sorted(set("".join(letters_of(svg).values()))) == ["A", "B"]


def test_the_protective_earth_has_its_sign_in_a_ring_and_its_words() -> None:
    """IEC 60417-5019: three ever shorter bars below a stem, in a circle."""
    (earth,) = [group for group in drawn(worked_example()).iter(f"{SVG}g") if group.get("class") == "d-earth"]
    assert len(list(earth.iter(f"{SVG}circle"))) == 1
    bars = [path.get("d", "") for path in earth.findall(f"{SVG}path")][-3:]
    widths = [
        abs(float(d[1:].split("L")[1].split()[0]) - float(d[1:].split("L")[0].split()[0])) for d in bars
    ]
    assert widths == sorted(widths, reverse=True)
    assert len(set(widths)) == 3
    assert texts(earth) == ["protective earth"]


def test_a_board_on_which_nothing_is_joined_says_so() -> None:
    svg = drawn(b.board(sources=(), amps=()))
    assert "Nothing is joined." in "".join(svg.itertext())


def test_hostile_names_stay_text() -> None:
    plan = worked_example()
    plan = replace(plan, pedals=(replace(plan.pedals[0], name=HOSTILE), *plan.pedals[1:]))
    svg = drawn(plan)
    assert "script" not in {element.tag.removeprefix(SVG) for element in svg.iter()}


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_any_board_is_drawn_within_its_sheet(document: dict[str, object]) -> None:
    plan = load_plan_text(json.dumps(document))
    graph = map_grounds(plan)
    svg = drawn(plan)
    assert set(of_class(svg, "d-join")) == {join.ref for join in graph.joins}
    width, height = (float(svg.get(key, "0")) for key in ("width", "height"))
    for shape in svg.iter():
        x, y = float(shape.get("x", "0")), float(shape.get("y", "0"))
        assert 0 <= x <= width
        assert -1 <= y <= height
    check_no_two_lie_on_each_other(GroundSheet(graph, units_of(plan)))


def check_no_two_lie_on_each_other(sheet: GroundSheet) -> None:
    """Brackets on one height, and bars, keep apart; all that hangs below a unit has a place of its own."""
    levels: dict[float, list[tuple[float, float]]] = {}
    for bracket in sheet.brackets.values():
        levels.setdefault(bracket.y, []).append((bracket.one_x, bracket.other_x))
    for bar in sheet.bars.values():
        levels.setdefault(bar.y, []).append((bar.left, bar.right))
    for spans in levels.values():
        spans.sort()
        assert all(one[1] <= other[0] for one, other in pairwise(spans))
    for unit in sheet.units:
        xs = [sheet.below(join) for join in sheet.down if join.one == unit]
        assert len(set(xs)) == len(xs)
        assert all(sheet.left_of(unit) < x < sheet.left_of(unit) + BOX for x in xs)
