"""The underside: mirrored and said so, what hangs there and what passes through; the unknown is asked for."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from boardshop.boards.drawing import draw_underside
from boardshop.core.cables.runs import measure_runs
from boardshop.core.layout.geometry import body_box, supply_box
from boardshop.core.plan import BoardPlan, Rail, Under
from tests.boards.test_drawing import SVG, box_of, crowded, numbers_of, parse, texts, view, words
from tests.core import builders as b


def drawn(plan: BoardPlan, **how: object) -> ElementTree.Element:
    return parse(draw_underside(plan, runs=measure_runs(plan), **how))


def rects(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [one for one in root.iter(f"{SVG}rect") if name in one.get("class", "").split()]


def with_run_under() -> BoardPlan:
    """W2 leads from P1 to P2 under the frame, past S1."""
    plan = b.wired_board(
        b.pedal("P1", at=(400, 20)),
        b.pedal("P2", at=(100, 20)),
        supplies=(b.under_frame(b.supply("S1"), 300, 200),),
    )
    links = tuple(replace(link, route="under") if link.ref == "W2" else link for link in plan.links)
    return replace(plan, links=links)


def test_it_says_that_it_is_mirrored() -> None:
    root = drawn(crowded())
    assert "UNDERSIDE – mirrored: the player’s right is on the left here" in words(root)
    assert root.find(f"{SVG}desc").text.startswith("UNDERSIDE – mirrored")
    assert root.get("data-mirrored") == "yes"


def test_left_and_right_change_and_front_stays() -> None:
    plan = crowded()
    root = drawn(plan)
    left, top, width, depth = numbers_of(rects(root, "d-frame")[0], "x", "y", "width", "height")
    box = supply_box(plan.supplies[0])
    (supply,) = [one for one in rects(root, "d-supply") if one.get("data-ref") == "S1"]
    expected = (left + width - box.x1, top + depth - box.y1, box.width, box.depth)
    assert numbers_of(supply, "x", "y", "width", "height") == pytest.approx(expected, abs=0.02)


def test_every_pedal_is_dashed_at_its_mirrored_place() -> None:
    plan = crowded()
    root = drawn(plan)
    left, top, width, depth = numbers_of(rects(root, "d-frame")[0], "x", "y", "width", "height")
    found = {
        tuple(round(v) for v in numbers_of(r, "x", "y", "width", "height")) for r in rects(root, "d-hidden")
    }
    boxes = [body_box(pedal) for pedal in plan.pedals[:9]]
    expected = {
        tuple(round(v) for v in (left + width - one.x1, top + depth - one.y1, one.width, one.depth))
        for one in boxes
    }
    assert found == expected


def test_the_front_right_corner_is_marked_on_the_left() -> None:
    root = drawn(crowded())
    at = {t.text: box_of(t)[0] for t in texts(root) if t.text in ("F-R", "F-L", "R-R", "R-L")}
    assert at["F-R"] < at["F-L"]
    assert at["R-R"] < at["R-L"]


def test_only_runs_underneath_are_drawn_with_a_ring_at_each_end() -> None:
    root = drawn(with_run_under())
    refs = [t.text for t in texts(root, "d-ref")]
    rings = [c for c in root.iter(f"{SVG}circle") if c.get("class") == "d-pass"]
    assert "W2" in refs
    assert "W1" not in refs
    assert len(rings) == 2
    assert any("passes through" in said for said in words(root))


def test_the_room_is_the_least_over_the_whole_depth() -> None:
    # From 20 to 60 over 400 mm: at y 60 there are 26 mm.
    plan = crowded(frame=b.frame(820, 400, under=Under(20, 60), rails=(Rail(40, 60),)))
    assert {"35 high", "room 26"} <= set(words(drawn(plan)))


def test_what_is_not_recorded_is_said() -> None:
    supply = b.under_frame(b.supply("S1", height=None), 300, 60)
    said = " ".join(words(drawn(crowded(supplies=(supply,)))))
    assert "? high" in said
    assert "Height under the frame not recorded" in said
    assert "mains inlet not recorded: S1" in said


@pytest.mark.parametrize(("side", "is_left"), [("left", False), ("right", True)])
def test_the_outlets_side_changes_with_the_mirror(side: str, is_left: bool) -> None:
    supply = b.under_frame(b.supply("S1", outlet_side=side, inlet_side="rear"), 300, 60)
    root = drawn(crowded(supplies=(supply,)))
    strips = [numbers_of(r, "x", "width") for r in rects(root, "d-stroke")]
    (body,) = [numbers_of(r, "x", "width") for r in rects(root, "d-supply")]
    outlets = next(one for one in strips if one[1] == 15)
    assert (outlets[0] < body[0]) == is_left
    assert len(strips) == 2


def test_no_lettering_leaves_the_sheet() -> None:
    root = drawn(with_run_under())
    width, height = view(root)
    for text in texts(root):
        if text.get("transform") is None:
            left, top, right, bottom = box_of(text)
            assert min(left, top, width - right, height - bottom) >= 0, text.text


def test_links_lead_to_each_row() -> None:
    root = drawn(with_run_under(), url=lambda ref: f"#{ref}")
    targets = {link.get("href") for link in root.iter(f"{SVG}a")}
    assert targets == {"#S1", "#W2"}


def test_an_empty_board_is_drawn() -> None:
    assert rects(drawn(b.board()), "d-frame")


def test_the_same_plan_gives_the_same_text() -> None:
    assert draw_underside(crowded()) == draw_underside(crowded())


def test_hostile_names_stay_words() -> None:
    supply = b.under_frame(b.supply("S1", model="</title><script>"), 300, 60)
    assert "<script>" not in draw_underside(crowded(supplies=(supply,)))
