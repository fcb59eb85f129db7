"""Bodies that claim the same room are hatched on the drawing and named in its description."""

from unittest.mock import patch
from xml.etree import ElementTree

import pytest

from boardshop.core.numbering import number_pedals
from tests.boards.test_drawing import SVG, drawn, numbers_of
from tests.core import builders as b


def overlap_boxes(root: ElementTree.Element) -> list[tuple[float, ...]]:
    rects = [r for r in root.iter(f"{SVG}rect") if r.get("class") == "d-overlap"]
    return [numbers_of(r, "width", "height") for r in rects]


def test_overlapping_bodies_are_hatched_and_named() -> None:
    """Two boxes 100 × 120 mm set apart by 70 and 40 mm share 30 × 80 mm."""
    one = b.pedal("P1", at=(100, 20), width=100, depth=120, name="Tell True")
    other = b.pedal("P2", at=(170, 60), width=100, depth=120, name="Brass Moth")
    root = drawn(b.wired_board(one, other, frame=b.frame(600, 320)))
    assert overlap_boxes(root) == [(30, 80)]
    said = next(e.text for e in root if e.tag == f"{SVG}desc")
    number = number_pedals(b.wired_board(one, other))
    assert f"{number['P1']} Tell True and {number['P2']} Brass Moth overlap, which is hatched." in said


@pytest.mark.parametrize(("x", "count"), [(199, 1), (200, 0), (201, 0)])
def test_bodies_that_touch_do_not_overlap(x: int, count: int) -> None:
    one = b.pedal("P1", at=(100, 20), width=100, depth=120)
    other = b.pedal("P2", at=(x, 20), width=100, depth=120)
    assert len(overlap_boxes(drawn(b.wired_board(one, other, frame=b.frame(600, 320))))) == count


def test_an_overlap_moves_nothing_else() -> None:
    """All that is drawn besides the hatching is drawn the same without it."""
    one = b.pedal("P1", at=(100, 20), width=100, depth=120, name="Tell True")
    plan = b.wired_board(one, b.pedal("P2", at=(170, 60), width=100, depth=120), frame=b.frame(600, 320))
    root = drawn(plan)
    with_it = [c for g in root for c in g.iter() if "d-overlap" not in (c.get("class") or "")]
    with patch("boardshop.boards.drawing.board.find_overlaps", return_value=()):
        without = [c for g in drawn(plan) for c in g.iter()]
    places = [dict(c.items()) for c in without if c.tag != f"{SVG}g"]
    kept = [dict(c.items()) for c in with_it if c.tag != f"{SVG}g"]
    assert [place for place in places if place not in kept] == []


def test_supplies_under_the_frame_overlap_among_themselves_only() -> None:
    over = b.pedal("P1", at=(300, 60))
    supplies = (b.under_frame(b.supply("S1"), 300, 60), b.under_frame(b.supply("S2"), 310, 60))
    root = drawn(b.wired_board(over, supplies=supplies, frame=b.frame(820, 400)))
    assert len(overlap_boxes(root)) == 1
    assert "S1 and S2 overlap, which is hatched." in next(e.text for e in root if e.tag == f"{SVG}desc")
