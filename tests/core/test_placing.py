"""The search for places: what it keeps, what it answers about what cannot be, and how it is watched."""

from dataclasses import replace
from itertools import product

import pytest

from boardshop.core.layout import compute_layout
from boardshop.core.placing import Wishes, find_impossible
from boardshop.core.placing.bounds import score_bound
from boardshop.core.placing.problem import make_problem
from boardshop.core.placing.proposal import UNLIKE_MM, propose_layout, propose_layouts
from boardshop.core.placing.score import score_places
from boardshop.core.plan import Jack, Keepout, Place, Point, Rail, Rules, Supply, SupplyPlace, Tier
from tests.core.builders import amp, board, frame, guitar, link, pedal, plug_type

ONE_SECOND = Wishes(seconds=1)
PLAIN = {"jacks": (), "switches": (), "power": ()}


def chain(count, width=500, depth=320, **frame_values):
    """Guitar, so many pedals with flat plugs at their sides, amp."""
    pedals = [pedal(f"P{n}", use=n % 3) for n in range(1, count + 1)]
    ends = ["G1.OUT", *(f"P{n}.{jack}" for n in range(1, count + 1) for jack in ("IN", "OUT")), "A1.IN"]
    links = [
        link(f"W{k}", one, other) for k, (one, other) in enumerate(zip(ends[::2], ends[1::2], strict=True), 1)
    ]
    return board(
        *pedals,
        frame=frame(width, depth, **frame_values),
        sources=(guitar(),),
        amps=(amp(),),
        links=tuple(links),
        plugs=(plug_type(),),
    )


def standing(plan, placing):
    places = dict(placing.places)
    return replace(plan, pedals=tuple(replace(p, place=places.get(p.ref)) for p in plan.pedals))


def faults_of(plan, placing):
    """What the report's own layout rules say of the answer; they know nothing of the search."""
    return [f"{one.rule} {one.message}" for one in binding(standing(plan, placing))]


def binding(plan):
    """Findings that no placing may bring: faults, switches too near, pairs too far (board-file format)."""
    return [f for f in compute_layout(plan).findings if f.severity == "fault" or f.rule in ("L11", "L12")]


def test_all_are_placed_without_a_fault():
    plan = chain(6)
    found = propose_layout(plan, ONE_SECOND)
    assert (found.left_out, found.why, faults_of(plan, found)) == ((), "", [])
    assert [ref for ref, _ in found.places] == [one.ref for one in plan.pedals]


def test_score_is_four_times_the_cable_and_the_use_of_each_step():
    """By hand: from the entry (500, 320) to the plug's end (287, 86), from (186, 86) to the exit (0, 320)."""
    plan = chain(1)
    place = Place(200, 0)
    cable = (500 - 287) + (320 - 86) + (186 - 0) + (320 - 86)
    assert score_places(plan, {"p1": place}) == (4 * cable + 1 * 25, cable)


def test_the_same_wishes_give_the_same_places():
    plan = chain(5)
    assert propose_layout(plan, ONE_SECOND) == propose_layout(plan, ONE_SECOND)


def test_pinned_and_staying_pedals_keep_their_places():
    plan = chain(4)
    first, second, *rest = plan.pedals
    here, there = Place(20, 10), Place(380, 150)
    pinned = replace(first, place=here, pinned=True)
    plan = replace(plan, pedals=(pinned, replace(second, place=there), *rest))
    places = dict(propose_layout(plan, replace(ONE_SECOND, staying=("p2",))).places)
    assert (places["P1"], places["P2"]) == (here, there)


def test_only_allowed_turns_are_taken():
    plan = chain(3, width=170)
    turned = tuple(replace(one, turns=(90,)) for one in plan.pedals)
    found = propose_layout(replace(plan, pedals=turned), ONE_SECOND)
    assert {place.turn for _, place in found.places} == {90}


def test_a_treadle_stands_at_the_front_and_nothing_before_it():
    plan = chain(4)
    plan = replace(plan, pedals=(replace(plan.pedals[0], treadle=True), *plan.pedals[1:]))
    found = propose_layout(plan, ONE_SECOND)
    assert dict(found.places)["P1"].y <= 20
    assert faults_of(plan, found) == []


def test_tiers_rails_keepouts_supplies_and_the_lid_are_kept():
    plan = chain(
        4,
        width=700,
        depth=400,
        tiers=(Tier(0, 200), Tier(200, 400, 60)),
        rails=(Rail(0, 80), Rail(110, 190), Rail(210, 290), Rail(320, 400)),
        keepouts=(Keepout(0, 0, 120, 60),),
        lid=100,
    )
    tall = replace(plan.pedals[1], height=80)
    supply = Supply("S1", width=150, depth=80, height=40, place=SupplyPlace(540, 300))
    plan = replace(plan, pedals=(plan.pedals[0], tall, *plan.pedals[2:]), supplies=(supply,))
    found = propose_layout(plan, ONE_SECOND)
    assert found.left_out == ()
    assert faults_of(plan, found) == []
    assert dict(found.places)["P2"].y + 130 <= 200


def test_a_pair_is_put_side_by_side():
    plan = chain(5)
    plan = replace(plan, pedals=(replace(plan.pedals[0], together=("P5",)), *plan.pedals[1:]))
    found = propose_layout(plan, ONE_SECOND)
    assert found.left_out == ()
    assert faults_of(plan, found) == []


def test_reserved_room_stays_empty():
    plan = chain(4)
    found = propose_layout(plan, replace(ONE_SECOND, reserved=((73, 130),)))
    (room,) = found.reserved
    assert sorted((room.width, room.depth)) == [73, 130]
    body = pedal("P9", at=(room.x0, room.y0), width=room.width, depth=room.depth, **PLAIN)
    with_one_more = standing(plan, found)
    with_one_more = replace(with_one_more, pedals=(*with_one_more.pedals, body))
    found_rules = {one.rule for one in compute_layout(with_one_more).findings}
    assert found_rules.isdisjoint({"L01", "L02", "L03", "L04", "L05"})


def test_answers_are_unlike_and_the_best_comes_first():
    plan = chain(9, width=560)
    answers = propose_layouts(plan, ONE_SECOND)
    assert 1 < len(answers) <= 3
    assert [one.score for one in answers] == sorted(one.score for one in answers)
    for k, one in enumerate(answers):
        for other in answers[:k]:
            there = dict(other.places)
            moved = [
                ref
                for ref, p in one.places
                if p.turn != there[ref].turn or abs(p.x - there[ref].x) + abs(p.y - there[ref].y) >= UNLIKE_MM
            ]
            assert len(moved) >= len(one.places) // 4


def test_the_search_is_watched_and_stopped():
    seen = []

    def watch(progress):
        seen.append(progress)
        return progress.best is None

    found = propose_layout(chain(6), Wishes(seconds=60), watch)
    assert found.left_out == ()
    assert seen[-1].best is not None
    assert seen[-1].percent < 100


def test_two_pedals_are_placed_best_of_all_there_is():
    """Every pair of places on a small frame is tried: an independent optimum."""
    one = pedal(
        "P1", width=8, depth=6, jacks=(Jack("OUT", "out", "left", 2),), switches=(Point(3, 2),), use=2
    )
    two = pedal("P2", width=7, depth=9, jacks=(Jack("IN", "in", "rear", 5),), switches=(Point(2, 1),), use=1)
    plan = board(
        replace(one, power=()),
        replace(two, power=(), turns=(0, 180)),
        frame=frame(20, 19),
        links=(link("W1", "P1.OUT", "P2.IN"),),
        plugs=(plug_type(reach=3, width=2),),
        rules=Rules(gap_mm=1, plug_gap_mm=1, switch_gap_mm=5, switch_min_mm=4),
    )
    found = propose_layout(plan, ONE_SECOND)
    assert found.optimal
    assert found.score == found.bound == min(_every_score(plan))


def _every_score(plan):
    spots = list(product(range(20), range(19)))
    for turn, (x, y) in product((0, 180), spots):
        first = replace(plan, pedals=(plan.pedals[0], replace(plan.pedals[1], place=Place(x, y, turn))))
        if binding(replace(first, pedals=first.pedals[1:])):
            continue
        for x1, y1 in spots:
            places = {"p1": Place(x1, y1), "p2": Place(x, y, turn)}
            if x1 + 8 <= 20 and y1 + 6 <= 19 and not _clash(plan, places):
                yield score_places(plan, places)[0]


def _clash(plan, places):
    both = tuple(replace(one, place=places[one.ref.lower()]) for one in plan.pedals)
    return binding(replace(plan, pedals=both))


def test_no_placing_is_below_the_bound():
    for count in (2, 4, 7):
        plan = chain(count, width=600)
        found = propose_layout(plan, ONE_SECOND)
        assert 0 < score_bound(make_problem(plan)) <= found.score
        assert found.bound <= found.score


# --- what cannot be is said at once


def test_no_pedals_are_placed_at_once():
    found = propose_layout(board(), ONE_SECOND)
    assert (found.places, found.left_out, found.score, found.optimal) == ((), (), 0, True)
    assert found.why == "The board has no pedals to place."


def test_a_pedal_wider_than_the_frame():
    plan = board(pedal("P1", width=520, **PLAIN), pedal("P2", **PLAIN), frame=frame(500, 320))
    (sentence,) = find_impossible(plan)
    assert "520 × 130 mm" in sentence
    assert "500 × 320 mm" in sentence
    found = propose_layout(plan, ONE_SECOND)
    assert found.left_out == ("P1",)
    assert found.why.startswith("impossible: ")


def test_pins_that_contradict_each_other():
    pins = [pedal(ref, at=at, pinned=True, **PLAIN) for ref, at in (("P1", (0, 0)), ("P2", (50, 0)))]
    plan = board(*pins)
    (sentence,) = find_impossible(plan)
    assert "overlap by 23 mm" in sentence
    assert propose_layout(plan, ONE_SECOND).left_out == ("P2",)


def test_a_pair_that_no_distance_suits():
    plan = board(
        pedal("P1", jacks=(), power=(), together=("P2",)),
        pedal("P2", jacks=(), power=()),
        rules=Rules(together_mm=(60, 70), switch_gap_mm=75),
    )
    (sentence,) = find_impossible(plan)
    assert "at most 70 mm apart" in sentence
    assert "at least 75 mm" in sentence


def test_more_partners_than_have_room_beside_one():
    bare = {"jacks": (), "power": ()}
    plan = board(
        pedal("P1", together=("P2", "P3", "P4"), **bare), *(pedal(f"P{n}", **bare) for n in (2, 3, 4))
    )
    (sentence,) = find_impossible(plan)
    assert "only 2 switches have room" in sentence


def test_two_treadles_on_a_frame_too_narrow_for_both():
    plan = board(
        *(pedal(f"P{n}", width=100, depth=250, treadle=True, **PLAIN) for n in (1, 2)),
        frame=frame(190, 400),
    )
    (sentence,) = find_impossible(plan)
    assert "204 mm" in sentence


@pytest.mark.parametrize(("count", "is_proved"), [(3, False), (13, True)])
def test_more_area_than_the_frame(count, is_proved):
    plan = board(*(pedal(f"P{n}", **PLAIN) for n in range(count)), frame=frame(400, 320))
    sentences = find_impossible(plan)
    assert bool(sentences) == is_proved
    assert all("cm²" in one for one in sentences)


def test_forty_pedals_on_a_small_frame():
    plan = board(*(pedal(f"P{n}", **PLAIN) for n in range(1, 41)), frame=frame(400, 270))
    found = propose_layout(plan, ONE_SECOND)
    assert len(found.places) == 10
    assert len(found.left_out) == 30
    assert found.why.startswith("impossible: ")
    assert faults_of(plan, found) == []


def test_a_frame_beyond_all_measure_is_searched_in_part():
    plan = board(pedal("P1", **PLAIN), pedal("P2", width=10**6, **PLAIN), frame=frame(10**8, 10**8))
    (sentence,) = find_impossible(plan)
    assert "first 4000 mm" in sentence
    found = propose_layout(plan, ONE_SECOND)
    assert [ref for ref, _ in found.places] == ["P1"]
    assert found.why.startswith("not found in this time: ")


def test_to_finish_a_layout_leaves_what_stands_as_it_stands():
    """P1 and P2 overlap: that is told elsewhere, and takes nobody off."""
    stands = [pedal("P1", at=(0, 0), **PLAIN), pedal("P2", at=(50, 0), **PLAIN)]
    plan = board(*stands, pedal("P3", **PLAIN))
    found = propose_layout(plan, replace(ONE_SECOND, staying=("P1", "P2")))
    places = dict(found.places)
    assert (places["P1"], places["P2"], found.left_out) == (Place(0, 0), Place(50, 0), ())


def test_who_is_in_most_of_the_contradictions_is_left_out():
    bare = {"jacks": (), "power": ()}
    others = [f"P{n}" for n in range(2, 7)]
    plan = board(
        pedal("P1", together=tuple(others), **bare),
        *(pedal(ref, **bare) for ref in others),
        rules=Rules(together_mm=(20, 40)),
    )
    found = propose_layout(plan, ONE_SECOND)
    assert found.left_out == ("P1",)
    assert "more reasons" in found.why


def test_what_is_shown_never_gets_worse():
    scores = []

    def watch(progress):
        if progress.best is not None:
            scores.append(progress.best.score)
        return True

    found = propose_layout(chain(9), ONE_SECOND, watch)
    assert scores == sorted(scores, reverse=True)
    assert found.score <= scores[-1]
