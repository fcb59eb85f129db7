"""Corners of runs on the drawing; arcs after SVG 2, paths: `A rx ry rotation large sweep x y`.

b ---+        Player's view, so y is turned about on the drawing.
     |
     a
"""

from dataclasses import replace

import pytest

from boardshop.boards.drawing.bends import draw_way
from boardshop.core.cables.cut_length import count_rounded_corners
from boardshop.core.cables.runs import measure_runs
from boardshop.core.plan import BoardPlan
from tests.boards.test_drawing import drawn
from tests.core import builders as b

SVG = "{http://www.w3.org/2000/svg}"


def path(
    points: list[tuple[float, float]], radius: float, square: frozenset[tuple[float, float]] = frozenset()
) -> str:
    return str(dict(draw_way(points, radius, square, ()).attributes)["d"])


@pytest.mark.parametrize(
    ("points", "expected"),
    [
        ([(0, 0), (100, 0), (100, 100)], "M0 0L80 0A20 20 0 0 1 100 20L100 100"),
        ([(0, 0), (100, 0), (100, -100)], "M0 0L80 0A20 20 0 0 0 100 -20L100 -100"),
        ([(0, 0), (20, 0), (20, 20)], "M0 0L0 0A20 20 0 0 1 20 20L20 20"),
        ([(0, 0), (19, 0), (19, 100)], "M0 0L19 0L19 100"),
        ([(0, 0), (100, 0), (100, 19)], "M0 0L100 0L100 19"),
        ([(0, 0), (100, 0)], "M0 0L100 0"),
    ],
)
def test_a_corner_is_rounded_where_both_legs_take_it(
    points: list[tuple[float, float]], expected: str
) -> None:
    assert path(points, 20) == expected


def test_two_corners_share_the_leg_between_them() -> None:
    assert path([(0, 0), (100, 0), (100, 30), (200, 30)], 20) == (
        "M0 0L85 0A15 15 0 0 1 100 15L100 15A15 15 0 0 0 115 30L200 30"
    )


def test_where_a_bridge_stands_and_where_no_bend_is_known_the_corner_stays() -> None:
    points = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0)]
    assert path(points, 20, frozenset({(100.0, 0.0)})) == path(points, 0) == "M0 0L100 0L100 100"


def board() -> BoardPlan:
    return b.wired_board(b.pedal("P1", at=(400, 20)), b.pedal("P2", at=(60, 160)))


def arcs_of(plan: BoardPlan) -> int:
    runs = [p for p in drawn(plan).iter(f"{SVG}path") if p.get("class") == "d-run"]
    return sum((p.get("d") or "").count("A") for p in runs)


def test_as_many_corners_are_round_as_core_counts() -> None:
    """Of a board whose runs do not cross."""
    plan = board()
    bend = plan.cables[0].min_bend
    assert bend
    assert arcs_of(plan) == sum(count_rounded_corners(run.points, bend) for run in measure_runs(plan)) > 0
    unknown = replace(plan, cables=tuple(replace(cable, min_bend=None) for cable in plan.cables))
    assert arcs_of(unknown) == 0
