"""Runs, cut lengths, parts and the findings of cables."""

import random
from dataclasses import replace
from fractions import Fraction
from math import ceil, pi

import pytest

from boardshop.core.cables import compute_cables, link_capacitances, list_runs, measure_runs
from boardshop.core.cables.cut_length import capacitance, count_rounded_corners, cut_length, length_along
from boardshop.core.layout.geometry import Box
from boardshop.core.plan import Jack, Keepout, Point, Rules, StockLength
from boardshop.core.printing import as_json
from tests.core.builders import (
    board,
    chain,
    dc_plug_type,
    frame,
    link,
    pedal,
    plug_type,
    supply,
    under_frame,
)
from tests.core.cable_boards import findings_of, pair, run_of
from tests.core.test_cables_routing import distances_to

# Runs.


def test_a_straight_run_between_neighbours():
    run = run_of(pair())
    assert (run.path_mm, run.corners, run.blocked_by) == (286 - 187, (), ())
    assert run.cut_mm == 135  # 99 + 10 slack + 24 in the plugs = 133
    assert run.pf == 14  # 13.5 rounded up


def test_a_run_begins_at_the_plugs_outer_end():
    plan = pair(plugs=(plug_type(reach=20),))
    assert run_of(plan).path_mm == 280 - 193


def test_a_turned_pedals_jack_points_elsewhere():
    """Turned by 180 degrees, OUT looks right: from (387, 144) around P1 to P2 at (187, 186)."""
    assert run_of(pair(right=(300, 100, 180))).path_mm > 200


def test_runs_go_around_their_own_pedals():
    #   P2.IN looks away from P1: around P2's body
    run = run_of(pair(left=(100, 100, 180)))
    # P2.IN at (100, 144), plug end (86, 144); in front of P2 (y 100) and behind it (y 230) it is equally far.
    assert run.path_mm == (286 - 86) + (230 - 186) + (230 - 144)
    assert run.corners == ((286, 100), (86, 100))


def test_a_keepout_is_gone_around():
    walled = frame(keepouts=(Keepout(200, 150, 40, 60),))
    run = run_of(pair(frame=walled))
    assert run.path_mm == 99 + 2 * (210 - 186)
    assert run.corners == ((286, 210), (187, 210))


def test_bodies_of_others_and_supplies_on_top_are_gone_around():
    third = pedal("P3", at=(210, 0), width=50, depth=190)
    plan = replace(pair(), pedals=(*pair().pedals, third))
    assert run_of(plan).path_mm == 99 + 2 * 4
    on_top = replace(under_frame(supply("S1"), 200, 100), width=50, depth=90)
    on_top = replace(on_top, place=replace(on_top.place, under=False))
    assert run_of(pair(supplies=(on_top,))).path_mm == 99 + 2 * 4


def test_under_the_frame_only_supplies_and_keepouts_count():
    third = pedal("P3", at=(210, 0), width=50, depth=190)
    plan = replace(pair(route="under", frame=frame(surface="slotted")), pedals=(*pair().pedals, third))
    assert run_of(plan).path_mm == 99 + 2 * 50
    brick = under_frame(supply("S1", width=50, depth=90), 200, 100)
    assert run_of(replace(plan, supplies=(brick,))).path_mm == 99 + 2 * 4 + 2 * 50
    assert run_of(replace(plan, supplies=(), rules=Rules(pass_mm=30))).path_mm == 99 + 60


def test_leads_without_a_length_run_to_where_they_meet_the_frame():
    plan = board(pedal("P1", at=(300, 100)), links=chain("G1", "P1", "A1"))
    first, last = list_runs(plan)
    assert first.path_mm == (600 - 387) + (320 - 186)
    assert last.path_mm == 286 + (320 - 186)
    assert [f.subjects for f in findings_of(plan, "C11")] == [("W1", "W2")]


def test_given_lengths_and_made_cables_are_no_runs_to_cut():
    plan = board(
        pedal("P1", at=(400, 100)),
        pedal("P2", at=(250, 100)),
        links=(
            link("W1", "G1.OUT", "P1.IN", length=6000),
            link("W2", "P1.OUT", "P2.IN", made=150),
            link("W3", "P2.OUT", "A1.IN", length=9000),
        ),
    )
    section = compute_cables(plan)
    assert (section.runs, section.cut_total_mm) == ((), 0)
    assert link_capacitances(plan) == {"w1": 600, "w2": 15, "w3": 900}


def test_a_plug_end_under_another_pedal_is_blocked():
    third = pedal("P3", at=(270, 60))
    plan = replace(pair(), pedals=(*pair().pedals, third))
    run = run_of(plan)
    assert (run.path_mm, run.corners, run.cut_mm, run.pf) == (None, (), None, None)
    assert run.blocked_by == ("P3",)
    (finding,) = findings_of(plan, "C02")
    assert (finding.severity, finding.subjects) == ("fault", ("W1", "P3"))


def test_a_keepout_in_the_way_is_named():
    run = run_of(pair(frame=frame(keepouts=(Keepout(0, 0, 10, 10), Keepout(280, 180, 10, 10)))))
    assert run.blocked_by == ("keepout 2",)


# An independent search of every millimetre of random small boards.


def random_board(chance):
    """Small pedals anywhere on a small frame, overlaps and all, each linked to the next."""
    small = plug_type(reach=3, width=4, inside=2)
    jacks = (Jack("IN", "in", "right", 6, 20), Jack("OUT", "out", "left", 5, 20))
    pedals = [
        pedal(
            f"P{n}",
            width=12,
            depth=chance.randint(10, 20),
            jacks=jacks,
            at=(chance.randint(4, 84), chance.randint(0, 60), chance.choice([0, 90, 180, 270])),
        )
        for n in range(1, 6)
    ]
    keepouts = (Keepout(chance.randint(0, 80), chance.randint(0, 60), 15, 9),)
    links = chain(*(p.ref for p in pedals))
    return board(*pedals, links=links, plugs=(small,), frame=frame(100, 80, keepouts=keepouts))


def outline(a_pedal):
    spot = a_pedal.place
    sizes = (a_pedal.width, a_pedal.depth) if spot.turn in (0, 180) else (a_pedal.depth, a_pedal.width)
    return Box(spot.x, spot.y, spot.x + sizes[0], spot.y + sizes[1])


@pytest.mark.parametrize("seed", range(25))
def test_runs_of_random_boards_are_as_short_as_a_search_of_every_millimetre(seed):
    plan = random_board(random.Random(seed))
    boxes = [outline(p) for p in plan.pedals]
    boxes += [Box(k.x, k.y, k.x + k.width, k.y + k.depth) for k in plan.frame.keepouts]
    for run in measure_runs(plan):
        if run.blocked_by:
            continue
        start, end = Point(*run.points[0]), Point(*run.points[-1])
        floor = Box(
            min(0, start.x, end.x), min(0, start.y, end.y), max(100, start.x, end.x), max(80, start.y, end.y)
        )
        assert run.path_mm == distances_to(end, boxes, floor)[start.x, start.y]


def test_the_cuts_add_up():
    plan = board(
        *(pedal(f"P{n}", at=(500 - 100 * n, 100)) for n in range(1, 5)), links=chain("P1", "P2", "P3", "P4")
    )
    section = compute_cables(plan)
    assert section.cut_total_mm == sum(run.cut_mm for run in section.runs)
    assert sum(mm for _, mm in section.cut_plan.short) == section.cut_total_mm
    assert sum(count.cut_mm for count in section.parts.cables) == section.cut_total_mm


def test_seventeen_links_of_eighteen_pedals_are_routed():
    places = [(720 - 100 * (n % 7), 150 * (n // 7) + 10 * (n % 2)) for n in range(18)]
    pedals = [pedal(f"P{n}", at=place) for n, place in enumerate(places, start=1)]
    order = sorted((p.ref for p in pedals), key=lambda ref: hash_free(ref))
    plan = board(*pedals, links=chain(*order), frame=frame(820, 450))
    runs = measure_runs(plan)
    assert len([run for run in runs if run.path_mm]) == 17


def hash_free(ref):
    """A fixed order that jumps over the board."""
    return (int(ref[1:]) * 7) % 18


# Lengths.


@pytest.mark.parametrize(
    ("first", "second", "rounded"),
    [(24, 40, 0), (25, 40, 1), (26, 40, 1), (40, 24, 0), (40, 25, 1), (25, 25, 1)],
)
def test_a_corner_is_rounded_when_both_legs_take_the_bend(first, second, rounded):
    assert count_rounded_corners([(0, 0), (first, 0), (first, second)], 25) == rounded


def test_a_rounded_corner_saves_its_two_radii_less_a_quarter_circle():
    assert length_along(200, 3, 25) == pytest.approx(200 - 3 * (2 * 25 - 2 * pi * 25 / 4))
    assert length_along(200, 0, 25) == 200


@pytest.mark.parametrize(("length", "slack"), [(332, 10), (333, 10), (334, Fraction(1002, 100)), (1000, 30)])
def test_slack_is_a_share_but_never_less_than_the_least(length, slack):
    whole = Rules(round_up_mm=1)
    assert cut_length(length, 24, whole) == ceil(length + slack + 24)


@pytest.mark.parametrize(("length", "cut"), [(65, 100), (66, 100), (67, 105), (66.0001, 105)])
def test_the_cut_is_rounded_up_to_the_step(length, cut):
    """66 + 10 + 24 is 100 exactly: it stays."""
    assert cut_length(length, 24, Rules()) == cut


def test_no_step_rounds_up_to_whole_millimetres():
    assert cut_length(334, 24, Rules(round_up_mm=0)) == 369
    assert cut_length(66, 24, Rules(round_up_mm=0)) == 100


@pytest.mark.parametrize(("length", "cut"), [(100, 130), (150, 180), (220, 255), (350, 385), (600, 645)])
def test_worked_example_cut_lengths_of_five_finished_ones(length, cut):
    """Worked example (calculation): 3 % slack without a least one, 12 mm in each plug, up to 5 mm."""
    assert cut_length(length, 24, Rules(slack_min_mm=0)) == cut


@pytest.mark.parametrize(("length", "pf"), [(134, 13), (135, 14), (136, 14)])
def test_capacitance_is_rounded_half_up(length, pf):
    assert capacitance(length, 100) == pf


def test_a_run_with_corners_is_cut_along_its_bends():
    run = run_of(pair(frame=frame(keepouts=(Keepout(200, 100, 40, 130),))))
    # 99 + 2 x 44 = 187; both corners have legs of 44 and 99: 2 x 0.4292 x 25 less.
    assert (run.path_mm, run.corners) == (187, ((286, 230), (187, 230)))
    assert run.cut_mm == 200  # 165.54 + 10 + 24 = 199.54


# Parts and shape.


def test_parts_count_plugs_and_cables():
    plan = board(
        pedal("P1", at=(400, 100)),
        pedal("P2", at=(250, 100)),
        links=(
            link("W1", "G1.OUT", "P1.IN", length=6000, plug_from=None, plug_to="J2"),
            link("W2", "P1.OUT", "P2.IN"),
            link("W3", "P2.OUT", "A1.IN", made=700),
        ),
        plugs=(plug_type(), plug_type("J2"), dc_plug_type()),
    )
    printed = as_json(compute_cables(plan).parts)
    assert printed["plugs"] == [
        {"plug": "J1", "to_fit": 2, "in_all": 4},
        {"plug": "J2", "to_fit": 0, "in_all": 1},
    ]
    assert printed["cables"] == [
        {"cable": "C1", "cut": 1, "cut_mm": 85, "made": 1, "made_mm": 700, "leads": 1, "leads_mm": 6000}
    ]


def test_section_prints_the_keys_of_the_report():
    printed = as_json(compute_cables(replace(pair(), stock=(StockLength("C1", 500),))))
    assert list(printed) == ["runs", "cut_total_mm", "cut_plan", "parts", "findings"]
    assert printed["runs"] == [
        {"ref": "W1", "path_mm": 99, "corners": [], "cut_mm": 135, "pf": 14, "blocked_by": []}
    ]
    assert printed["cut_plan"] == {
        "used": [{"cable": "C1", "length": 500, "kind": "reel", "pieces": [["W1", 135]], "left_mm": 363}],
        "short": [],
        "drawn_mm": 137,
        "waste_mm": 2,
        "optimal": True,
        "bound": 1,
    }
