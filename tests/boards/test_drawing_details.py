"""What the layout's own view from above adds, and that the other pages' drawings leave it out."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from boardshop.boards.drawing.details import list_slots
from boardshop.core.plan import BoardPlan, Keepout, Rail, Tier, Under
from tests.boards.test_drawing import SVG, bodies, box_of, crowded, drawn, numbers_of, texts, view, words
from tests.core import builders as b

RAILS = (Rail(40, 100), Rail(130, 200))


def detailed() -> BoardPlan:
    """Two rails, a treadle at the front, a narrow keep-out, everything measured."""
    frame = b.frame(
        600,
        320,
        surface="slotted",
        rails=RAILS,
        under=Under(20, 60),
        keepouts=(Keepout(200, 310, 120, 10, "hand hole"),),
    )
    treadle = b.pedal("P1", "wah", at=(480, 5), width=100, depth=250, treadle=True)
    return b.wired_board(treadle, b.pedal("P2", at=(300, 20, 180)), frame=frame)


def rects(root: ElementTree.Element, name: str) -> list[tuple[float, ...]]:
    found = (one for one in root.iter(f"{SVG}rect") if name in one.get("class", "").split())
    return [numbers_of(one, "x", "y", "width", "height") for one in found]


@pytest.mark.parametrize(
    ("rails", "slots"),
    [
        ((), []),
        (RAILS, [(0, 40), (100, 130), (200, 320)]),
        ((Rail(0, 100), Rail(100, 320)), []),
        ((Rail(0, 120), Rail(40, 60), Rail(200, 320)), [(120, 200)]),
    ],
)
def test_slots_are_what_no_rail_covers(rails: tuple[Rail, ...], slots: list[tuple[int, int]]) -> None:
    frame = b.frame(600, 320, surface="slotted", rails=rails)
    assert list_slots(frame) == slots
    assert list_slots(replace(frame, surface="flat")) == []


def test_slots_are_drawn_to_scale() -> None:
    assert sorted(height for _x, _y, _w, height in rects(drawn(detailed(), details=True), "d-slot")) == [
        30,
        40,
        120,
    ]


def test_a_treadles_stroke_is_free_at_heel_and_toe() -> None:
    root = drawn(detailed(), details=True)
    x, y, width, height = numbers_of(bodies(root)["P1"], "x", "y", "width", "height")
    # 15 mm at the heel, 20 mm at the toe: common practice.
    assert sorted(rects(root, "d-stroke")) == [(x, y - 20, width, 20), (x, y + height, width, 15)]


def test_a_turned_treadle_takes_its_stroke_along() -> None:
    plan = b.board(b.pedal("P1", "wah", at=(100, 100, 90), treadle=True))
    root = drawn(plan, details=True)
    x, _y, width, _height = numbers_of(bodies(root)["P1"], "x", "y", "width", "height")
    # A quarter turn counter-clockwise brings the rear to the left.
    assert sorted((one[0], one[2]) for one in rects(root, "d-stroke")) == [(x - 20, 20), (x + width, 15)]


def test_each_jack_has_its_way() -> None:
    root = drawn(detailed(), details=True)
    ways = [g for g in root.iter(f"{SVG}g") if g.get("class") == "d-way"]
    assert sorted(way.find(f"{SVG}title").text for way in ways) == [
        f"{ref}.{name}" for ref in ("P1", "P2") for name in ("DC: power", "IN: in", "OUT: out")
    ]


@pytest.mark.parametrize(("turn", "sign"), [(0, 1), (180, -1)])
def test_an_input_points_inward_and_an_output_outward(turn: int, sign: int) -> None:
    root = drawn(b.board(b.pedal("P1", at=(200, 100, turn))), details=True)
    for way in (g for g in root.iter(f"{SVG}g") if g.get("class") == "d-way"):
        path = way.find(f"{SVG}path")
        if path is not None:
            tip, wing, _other = [float(point.split()[0]) for point in path.get("d").strip("MZ").split("L")]
            # The signal runs from the right to the left, as IN is on the right of an unturned pedal.
            assert (wing - tip) * sign > 0


def test_rails_are_dimensioned_from_the_front_edge() -> None:
    assert {"40", "100", "130", "200"} <= {
        t.text for t in texts(drawn(detailed(), details=True), "d-measure")
    }


def test_heights_and_narrow_keep_outs_are_noted() -> None:
    said = words(drawn(detailed(), details=True))
    assert (
        "Heights from the top: lid 120 mm; free under the frame 20 mm at the front, 60 mm at the rear" in said
    )
    assert "Kept free: hand hole 120 mm × 10 mm" in said


def test_what_is_not_recorded_is_noted() -> None:
    plan = replace(detailed(), frame=b.frame(600, 320, lid=None))
    said = " ".join(words(drawn(plan, details=True)))
    assert "lid not recorded; free height under the frame not recorded" in said


def test_the_corner_is_marked_at_the_players_right() -> None:
    root = drawn(detailed(), details=True)
    at = {t.text: box_of(t)[0] for t in texts(root) if t.text in ("F-R", "F-L")}
    assert at["F-R"] > at["F-L"]


def test_other_drawings_leave_it_out() -> None:
    root = drawn(detailed())
    assert rects(root, "d-slot") == rects(root, "d-stroke") == []
    assert "F-R" not in words(root)


def test_no_lettering_leaves_the_sheet() -> None:
    plan = crowded(
        frame=b.frame(820, 400, surface="slotted", rails=RAILS, tiers=(Tier(0, 180), Tier(180, 400, 30)))
    )
    root = drawn(plan, details=True)
    width, height = view(root)
    for text in texts(root):
        if text.get("transform") is None:
            left, top, right, bottom = box_of(text)
            assert min(left, top, width - right, height - bottom) >= 0, text.text
