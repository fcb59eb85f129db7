"""The side view: to scale, rows and heights, the least that is free, and what is not known left open."""

from dataclasses import replace
from math import cos, hypot, radians, sin
from xml.etree import ElementTree

import pytest

from boardshop.boards.drawing import draw_side
from boardshop.boards.drawing.side_sheet import lay_out_side
from boardshop.core.layout.heights import lid_spare
from boardshop.core.layout.standing import list_bodies
from boardshop.core.plan import BoardPlan, Rail, Tier, Under
from tests.boards.test_drawing import SVG, balloons_of, box_of, crowded, parse, texts, view, words
from tests.core import builders as b

SLOPING = {"under": Under(20, 76), "lid": 120, "tiers": (Tier(0, 400, 0),), "rails": (Rail(40, 60),)}


def side(**frame: object) -> BoardPlan:
    return crowded(frame=b.frame(820, 400, **(SLOPING | frame)))


def drawn(plan: BoardPlan, **how: object) -> ElementTree.Element:
    return parse(draw_side(plan, **how))


def paths(root: ElementTree.Element, name: str) -> list[list[tuple[float, float]]]:
    found = [one.get("d") for one in root.iter(f"{SVG}path") if name in one.get("class", "").split()]
    return [
        [tuple(float(v) for v in point.split()) for point in path.strip("MZ").split("L")] for path in found
    ]


def lengths(outline: list[tuple[float, float]]) -> tuple[int, int]:
    (x0, y0), (x1, y1), (x2, y2) = outline[:3]
    return round(hypot(x1 - x0, y1 - y0)), round(hypot(x2 - x1, y2 - y1))


def test_it_says_from_where_one_looks() -> None:
    said = words(drawn(side()))
    assert any("SIDE VIEW from the player’s right" in one for one in said)
    assert "the player’s side" in said


def test_bodies_are_as_deep_and_high_as_recorded() -> None:
    plan = side()
    found = sorted(lengths(outline) for outline in paths(drawn(plan), "d-body"))
    assert found == sorted((body.box.depth, body.height) for body in list_bodies(plan))


def test_the_floor_is_level_and_the_top_slopes_by_what_is_recorded() -> None:
    root = drawn(side())
    (floor,) = paths(root, "d-floor")
    assert floor[0][1] == floor[1][1]
    # atan(56 / 400) is 7.97 degrees.
    assert any("slopes by 8.0°" in said for said in words(root))


def test_the_front_is_at_the_left_and_heights_are_square_to_the_top() -> None:
    sheet = lay_out_side(side())
    angle = radians(sheet.slope_degrees)
    (x0, y0), (x1, y1) = sheet.point(0, 0), sheet.point(400, 0)
    assert (x1 - x0, y0 - y1) == pytest.approx((400 * cos(angle), 400 * sin(angle)))
    (x2, y2) = sheet.point(0, 100)
    assert (x2 - x0) * (x1 - x0) + (y2 - y0) * (y1 - y0) == pytest.approx(0)


def test_every_thing_stands_with_what_is_free_over_it() -> None:
    plan = side()
    said = words(drawn(plan))
    for body in list_bodies(plan):
        assert f"{body.height} high, {lid_spare(body, plan.frame)} free" in said


def test_the_least_free_height_is_dimensioned() -> None:
    plan = side()
    tall = replace(plan.pedals[2], height=103)
    root = drawn(replace(plan, pedals=(*plan.pedals[:2], tall, *plan.pedals[3:])))
    assert "least 17" in words(root)


def test_what_does_not_fit_says_by_how_much() -> None:
    plan = side(lid=50)
    assert "5 too high" in words(drawn(plan))


def test_a_height_that_is_not_recorded_is_open_and_asked_for() -> None:
    plan = side()
    unknown = replace(plan, pedals=(replace(plan.pedals[0], height=None), *plan.pedals[1:]))
    root = drawn(unknown)
    (outline,) = paths(root, "d-open")
    assert outline[0] != outline[-1]
    assert {"?", "height ?", "Height not recorded, drawn open: 1"} <= set(words(root))
    assert len(paths(root, "d-body")) == 8


@pytest.mark.parametrize(
    ("unknown", "said"),
    [
        ({"lid": None}, "Height under the lid not recorded"),
        ({"under": None}, "Height under the frame not recorded, drawn level"),
    ],
)
def test_a_frame_that_is_not_measured_says_so(unknown: dict[str, None], said: str) -> None:
    assert said in words(drawn(side(**unknown)))


def test_an_unmeasured_supply_is_open_below() -> None:
    plan = side()
    supply = b.under_frame(b.supply("S1", height=None), 300, 60)
    root = drawn(replace(plan, supplies=(supply,)))
    assert "S1 ?" in words(root)
    assert len(paths(root, "d-open")) == 1


def test_under_the_frame_the_least_is_at_the_shallow_edge() -> None:
    # Free height at y 60: 20 + 56 x 60 / 400 = 28.4; the supply is 35 high.
    assert "6.6 too high" in words(drawn(side()))
    # With 90 at the front edge: 90 - 14 x 150 / 400 - 35 = 49.75, at its rear edge.
    assert "49.7 free" in words(drawn(side(under=Under(90, 76))))


def test_a_toe_is_drawn_and_told_apart() -> None:
    treadle = b.pedal(
        "P1", "wah", at=(10, 10), treadle=True, depth=250, height=80, toe_height=115, name="Vowel"
    )
    root = drawn(b.wired_board(treadle, frame=b.frame(400, 320, lid=120)))
    assert {"80 high, 40 free", "115 high, 5 free", "Vowel, toe up", "least 5"} <= set(words(root))
    assert len(paths(root, "d-stroke")) == 1


def test_a_tier_lifts_what_stands_on_it() -> None:
    plan = side(tiers=(Tier(0, 180, 0), Tier(180, 400, 30)))
    assert "+30: 55 high, 35 free" in words(drawn(plan))


def test_each_balloon_stands_above_and_in_the_list() -> None:
    root = drawn(side())
    numbers = [t.text for t in texts(root, "d-number")]
    assert sorted(numbers) == sorted([*map(str, range(1, 10)), *map(str, range(1, 10)), "S1"])
    assert len(balloons_of(root)) == 19


def test_no_balloon_lies_on_another() -> None:
    found = balloons_of(drawn(side()))
    for at, (x, y, r) in enumerate(found):
        assert all(hypot(x - u, y - v) >= r + s - 0.05 for u, v, s in found[at + 1 :])


def test_no_lettering_leaves_the_sheet() -> None:
    root = drawn(side())
    width, height = view(root)
    for text in texts(root):
        if text.get("transform") is None:
            left, top, right, bottom = box_of(text)
            assert min(left, top, width - right, height - bottom) >= 0, text.text


def test_on_paper_a_mm_is_a_mm() -> None:
    root = drawn(side(), scale=5)
    assert float(root.get("width").removesuffix("mm")) == pytest.approx(view(root)[0] / 5, abs=0.01)
    assert any("scale 1:5" in said for said in words(root))


def test_an_empty_board_is_drawn() -> None:
    assert paths(drawn(b.board()), "d-frame")


def test_hostile_names_stay_words() -> None:
    assert "<script>" not in draw_side(b.board(b.pedal("P1", at=(0, 0), name="</title><script>")))


def test_the_same_plan_gives_the_same_text() -> None:
    assert draw_side(side()) == draw_side(side())
