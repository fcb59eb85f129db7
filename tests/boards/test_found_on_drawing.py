"""What is found stands on the drawing: an outline and a tag for each of the two things, without colour."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from boardshop.boards.drawing import draw_board
from boardshop.boards.drawing.found import list_marks
from boardshop.boards.drawing.live import draw_live_marks
from boardshop.core.findings import apply_accepted
from boardshop.core.layout import compute_layout
from boardshop.core.plan import Accepted, BoardPlan, Keepout, Point, Rules
from tests.core import builders as b
from tests.core.layout_boards import PLAIN, two

SVG = "{http://www.w3.org/2000/svg}"


def marks_of(plan: BoardPlan) -> dict[str, tuple[str, tuple[str, ...]]]:
    found = apply_accepted(plan, compute_layout(plan).findings)
    return {mark.ref: (mark.severity, mark.rules) for mark in list_marks(plan, found)}


def drawn(plan: BoardPlan) -> ElementTree.Element:
    return ElementTree.fromstring(draw_board(plan, marks=list_marks(plan, compute_layout(plan).findings)))


def outlines(root: ElementTree.Element) -> dict[str, ElementTree.Element]:
    groups = [one for one in root.iter(f"{SVG}g") if one.get("data-found")]
    return {one.get("data-found", ""): one for one in groups}


def test_both_things_of_a_finding_are_marked() -> None:
    assert marks_of(two(60)) == {"P1": ("fault", ("L03",)), "P2": ("fault", ("L03",))}


def test_nothing_is_marked_where_nothing_is_found() -> None:
    assert marks_of(two(77)) == {}
    assert outlines(drawn(two(77))) == {}


def test_a_plugs_finding_marks_its_pedal() -> None:
    """P1's OUT stands 14 mm out of the frame at its left edge."""
    plan = b.wired_board(b.pedal("P1", at=(0, 100), switches=()))
    assert "L08" in marks_of(plan)["P1"][1]


def test_a_keepout_is_marked_as_well() -> None:
    plan = replace(two(200), frame=b.frame(keepouts=(Keepout(10, 10, 20, 20, "handle"),)))
    assert marks_of(plan) == {"P1": ("fault", ("L04",)), "keepout 1": ("fault", ("L04",))}


def test_what_is_kept_on_purpose_is_not_marked() -> None:
    plan = replace(two(60), accepted=(Accepted("L03", ("P1", "P2"), "Glued together."),))
    assert marks_of(plan) == {}


def test_a_caution_and_a_fault_differ_by_more_than_colour() -> None:
    """The caution's outline is dashed, and the signs are of different shape."""
    near = {**PLAIN, "switches": (Point(36, 25),)}
    pedals = b.pedal("P1", at=(0, 0), **near), b.pedal("P2", at=(77, 0), **near)
    caution, fault = b.board(*pedals, rules=Rules(switch_gap_mm=90)), two(60)
    looks = []
    for plan, severity in ((caution, "caution"), (fault, "fault")):
        assert marks_of(plan)["P1"][0] == severity
        one = outlines(drawn(plan))["P1"]
        outline = next(r for r in one.iter(f"{SVG}rect") if r.get("class") == "d-found")
        looks.append((outline.get("stroke-dasharray"), next(one.iter(f"{SVG}path")).get("d")))
    (dashes, sign), (no_dashes, other_sign) = looks
    assert dashes
    assert no_dashes is None
    assert sign != other_sign


def test_a_tag_says_the_worst_rule_and_how_many_more() -> None:
    plan = two(-20, kind="wah", treadle=True, y=30)
    rules = marks_of(plan)["P2"][1]
    words = [text.text for text in outlines(drawn(plan))["P2"].iter(f"{SVG}text")]
    assert words == [f"{rules[0]} +{len(rules) - 1}"]


@pytest.mark.parametrize("x", [60, -30])
def test_live_marks_have_their_origin_at_the_frames_corner(x: int) -> None:
    """P1 lies at the corner: its outline begins half a unit left of 0 and ends as much below."""
    plan = two(x)
    live = ElementTree.fromstring(draw_live_marks(plan, list_marks(plan, compute_layout(plan).findings)))
    left, front = (float(part) for part in live.get("transform", "")[len("translate(") : -1].split())
    outline = next(r for g in live.iter("g") if g.get("data-found") == "P1" for r in g.iter("rect"))
    edge = [float(outline.get(name, "")) for name in ("x", "y", "width", "height")]
    assert left + edge[0] + edge[2] / 2 == pytest.approx(73 / 2, abs=0.02)
    assert front + edge[1] + edge[3] / 2 == pytest.approx(-130 / 2, abs=0.02)


def test_no_marks_are_no_text() -> None:
    assert draw_live_marks(two(77), ()) == ""
