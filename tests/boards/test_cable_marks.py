"""Bridges, drops, blocked runs, the chosen one, lines for a finger: on the drawings from above and below."""

import re
from dataclasses import replace

import pytest

from boardshop.boards.drawing import draw_board, draw_underside
from boardshop.core.cables import measure_runs
from boardshop.core.cables.crossings import list_crossings
from boardshop.core.plan import BoardPlan, Keepout, Rail
from tests.core import builders as b
from tests.core.test_cables_crossings import cross
from tests.core.test_cables_drops import RAILS, slotted

WALL = b.frame(keepouts=(Keepout(230, -5, 10, 400, "hinge"),))


def crossed() -> BoardPlan:
    stands, links = cross()
    return b.board(*stands, links=links)


def draw(plan: BoardPlan, **values: object) -> str:
    return draw_board(plan, runs=measure_runs(plan), **values)


def attribute(svg: str, of: str, name: str) -> list[float]:
    return [float(value) for value in re.findall(rf'class="{of}"[^>]* {name}="([-\d.]+)"', svg)]


def test_one_run_bridges_the_other_where_they_cross() -> None:
    plan = crossed()
    (crossing,) = list_crossings(plan)
    svg = draw(plan)
    (group,) = re.findall(r'<g class="d-bridge" data-at="W1 W2">.*?</g>', svg, re.DOTALL)
    assert "<title>W1 and W2 cross</title>" in group
    left, front = (float(re.search(rf'data-origin-{axis}="([\d.]+)"', svg)[1]) for axis in "xy")
    x, y = attribute(group, "d-knockout", "cx")[0], attribute(group, "d-knockout", "cy")[0]
    assert (round(x - left), round(front - y)) == crossing.at


def test_runs_that_do_not_cross_have_no_bridge() -> None:
    stands, links = cross()
    assert "d-bridge" not in draw(b.board(*stands, links=links[:1]))


@pytest.mark.parametrize("draw_it", [draw_board, draw_underside])
def test_a_run_under_the_frame_goes_down_where_core_says(draw_it: object) -> None:
    plan = slotted(Rail(0, 150), Rail(160, 320))
    svg = draw_it(plan, runs=measure_runs(plan))
    groups = re.findall(r'<g class="d-drop" data-run="W1">.*?</g>', svg, re.DOTALL)
    assert len(groups) == 2
    assert all("26 from its plug" in group and "d-dimension" in group for group in groups)
    right_over = draw_it(slotted(*RAILS), runs=measure_runs(slotted(*RAILS)))
    assert "d-dimension" not in re.search(r'<g class="d-drop".*?</g>', right_over, re.DOTALL)[0]


def test_from_below_the_ring_is_at_the_plug_where_the_rails_are_not_recorded() -> None:
    plan = slotted()
    svg = draw_underside(plan, runs=measure_runs(plan))
    assert (svg.count("d-drop"), svg.count('class="d-pass"')) == (0, 2)


def blocked() -> BoardPlan:
    from tests.core.cable_boards import pair

    return pair(frame=WALL)


def test_a_blocked_run_shows_its_air_line_and_what_stands_in_it() -> None:
    svg = draw(blocked(), url=lambda ref: f"?run={ref}")
    assert svg.count('class="d-air"') == 1
    assert re.search(r'<a class="d-mark d-blocked" href="\?run=W1" data-run="W1">', svg)
    (box,) = re.findall(r'<rect class="d-blocker"[^>]*>', svg)
    assert 'data-blocks="W1"' in box
    assert 'width="10"' in box
    assert 'height="400"' in box


def test_a_run_with_a_way_has_no_air_line() -> None:
    svg = draw(crossed())
    assert "d-air" not in svg
    assert "d-blocker" not in svg


def test_a_chosen_run_is_twice_as_heavy_and_both_its_plugs_are_outlined() -> None:
    svg = draw(crossed(), selected="W1")
    chosen = attribute(svg, "d-run is-selected", "stroke-width")[0]
    assert chosen == pytest.approx(2 * attribute(svg, "d-run", "stroke-width")[0], rel=0.02)
    assert sorted(re.findall(r'data-plug="([^"]+)"', svg)) == ["W1 P1.OUT", "W1 P2.IN"]
    assert svg.index('"d-run is-selected"') > svg.index('class="d-run"')


def test_lines_for_a_finger_are_links_that_the_keyboard_passes_by() -> None:
    svg = draw(crossed(), wide=True, url=lambda ref: f"?run={ref}")
    hits = re.findall(r'<a class="d-way-link" href="\?run=(W\d)" tabindex="-1" aria-hidden="true">', svg)
    assert hits == ["W1", "W2"]
    assert "d-way-link" not in draw(crossed(), url=lambda ref: f"?run={ref}")
    assert "d-way-link" not in draw(crossed(), wide=True)


def test_other_runs_than_the_plans_are_drawn_without_any_of_it() -> None:
    plan = crossed()
    assert "d-bridge" not in draw_board(plan)
    assert "d-bridge" not in draw_board(replace(plan, links=()), runs=measure_runs(plan))
