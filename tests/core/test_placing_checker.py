"""The checker of placings: each rule broken once is found, and a right placing passes."""

import pytest

from tests.core.placing_checker import judge, list_violations, measure
from tests.core.square_boards import squared_square

PLUGS = [
    {"ref": "J1", "connector": "6.35 TS", "reach": 20, "width": 15},
    {"ref": "JD", "connector": "barrel 5.5/2.1", "reach": 12, "width": 10},
]


def pedal(ref, **keys):
    """70 x 120 with its jacks at the sides and one switch in the middle of its front half."""
    jacks = [
        {"name": "IN", "role": "in", "side": "right", "offset": 80},
        {"name": "OUT", "role": "out", "side": "left", "offset": 80},
        {"name": "DC", "role": "power", "side": "rear", "offset": 35},
    ]
    switches = [{"x": 35, "y": 30}]
    size = {"width": 70, "depth": 120}
    return {"ref": ref, "kind": "boost", "jacks": jacks, "switches": switches, "use": 2} | size | keys


def board(*pedals, links=(), feeds=(), supplies=(), rules=None, **frame):
    return {
        "format": "boardshop-board",
        "version": 1,
        "frame": {"width": 500, "depth": 320} | frame,
        "pedals": list(pedals),
        "plugs": PLUGS,
        "links": [
            {"ref": f"W{n}", "from": a, "to": b, "plug_from": "J1", "plug_to": "J1"}
            for n, (a, b) in enumerate(links)
        ],
        "feeds": [{"from": "S1.1", "to": end, "lead": {"plug": "JD"}} for end in feeds],
        "supplies": [{"ref": "S1", "outlets": [{"name": "1"}]}, *supplies],
        "sources": [{"ref": "G1"}],
        "amps": [{"ref": "A1"}],
        "rules": rules or {},
    }


def at(x, y=0, turn=0):
    return {"x": x, "y": y, "turn": turn}


def broken(document, *places):
    """The words of the rules that these places of P1, P2, ... break."""
    lines = list_violations(document, {f"P{n}": place for n, place in enumerate(places, start=1)})
    return [line.split(":")[0] for line in lines]


P1, P2 = pedal("P1"), pedal("P2")
LINKED = board(P1, P2, links=[("P2.OUT", "P1.IN")])
"""Two facing plugs of 20 mm in line need 40 mm and the 2 mm between them."""


@pytest.mark.parametrize(("x", "wrong"), [(430, []), (431, ["frame"]), (-1, ["frame"])])
def test_a_body_lies_in_the_frame(x, wrong):
    assert broken(board(P1), at(x)) == wrong


@pytest.mark.parametrize(("y", "wrong"), [(40, []), (41, ["tier"]), (160, []), (159, ["tier"])])
def test_a_body_lies_in_one_tier(y, wrong):
    tiers = [{"from": 0, "to": 160, "height": 0}, {"from": 160, "to": 320, "height": 50}]
    assert broken(board(P1, tiers=tiers), at(0, y)) == wrong


@pytest.mark.parametrize(("y", "height", "wrong"), [(0, 90, []), (0, 91, ["lid"]), (160, 41, ["lid"])])
def test_a_body_lies_under_the_lid(y, height, wrong):
    tiers = [{"from": 0, "to": 160, "height": 0}, {"from": 160, "to": 320, "height": 50}]
    assert broken(board(P1 | {"height": height}, tiers=tiers, lid=90), at(0, y)) == wrong


@pytest.mark.parametrize(("x", "wrong"), [(80, []), (74, []), (73, ["gap"]), (69, ["gap"])])
def test_bodies_keep_the_gap(x, wrong):
    assert broken(board(P1, P2, rules={"switch_gap_mm": 60}), at(0), at(x)) == wrong


@pytest.mark.parametrize(("x", "wrong"), [(100, []), (99, ["keepout"])])
def test_bodies_stay_off_a_keepout(x, wrong):
    assert broken(board(P1, keepouts=[{"x": 0, "y": 0, "width": 100, "depth": 50}]), at(x)) == wrong


@pytest.mark.parametrize(("x", "wrong"), [(112, []), (111, ["plug at a plug"])])
def test_facing_plugs_stay_apart(x, wrong):
    assert broken(LINKED, at(0), at(x)) == wrong


@pytest.mark.parametrize(("heights", "wrong"), [((20, 35), []), ((20, 34), ["plug at a plug"])])
def test_plugs_pass_at_heights_15_apart(heights, wrong):
    high, low = (
        [{"height": height} | jack for jack in one["jacks"]]
        for one, height in zip((P1, P2), heights, strict=True)
    )
    document = board(P1 | {"jacks": high}, P2 | {"jacks": low}, links=[("P2.OUT", "P1.IN")])
    assert broken(document, at(0), at(94)) == wrong


def test_a_plug_stays_off_a_body_whatever_the_height():
    tall = P1 | {"jacks": [{"height": 60} | jack for jack in P1["jacks"]]}
    document = board(tall, P2, links=[("P1.OUT", "A1.IN")])
    assert broken(document, at(95), at(3)) == []
    assert broken(document, at(95), at(4)) == ["plug at a body"]


def test_only_jacks_in_use_have_plugs():
    assert broken(board(P1, P2), at(0), at(80)) == []
    assert broken(LINKED, at(0), at(80)) == ["plug at a body", "plug at a body", "plug at a plug"]


@pytest.mark.parametrize(("y", "wrong"), [(186, []), (187, ["plug at the edge"])])
def test_a_power_plug_keeps_off_the_edge(y, wrong):
    assert broken(board(P1, feeds=["P1.DC"]), at(0, y)) == wrong


@pytest.mark.parametrize(("y", "wrong"), [(110, []), (111, ["plug at a keepout"])])
def test_an_odd_width_is_rounded_outward(y, wrong):
    """The plug of 15 mm reaches from 72 to 88 of the pedal's side, with 2 mm to the keep-out at y 200."""
    kept = [{"x": 70, "y": 200, "width": 100, "depth": 10}]
    assert broken(board(P1, links=[("G1.OUT", "P1.IN")], keepouts=kept), at(0, y)) == wrong


@pytest.mark.parametrize(
    ("turn", "keepout"),
    [(0, (70, 80)), (90, (39, 70)), (180, (-1, 39)), (270, (80, -1))],
)
def test_plugs_turn_with_the_pedal(turn, keepout):
    """The plug in the right side stands out there, then at the rear, on the left, at the front."""
    x, y = (100 + middle for middle in keepout)
    kept = [{"x": x, "y": y, "width": 1, "depth": 1}]
    document = board(P1 | {"turns": [turn]}, links=[("G1.OUT", "P1.IN")], keepouts=kept)
    assert broken(document, at(100, 100, turn)) == ["plug at a keepout"]


@pytest.mark.parametrize(("y", "wrong"), [(0, []), (20, []), (21, ["treadle"])])
def test_a_treadle_stands_at_the_front(y, wrong):
    assert broken(board(P1 | {"treadle": True}), at(0, y)) == wrong


def test_nothing_lies_before_a_treadle():
    treadle = P1 | {"treadle": True, "switches": []}
    low = P2 | {"width": 70, "depth": 10, "jacks": [], "switches": []}
    assert broken(board(treadle, low), at(0, 16), at(0)) == ["before a treadle"]
    kept = [{"x": 60, "y": 0, "width": 100, "depth": 10}]
    assert broken(board(treadle, keepouts=kept), at(0, 16)) == ["before a treadle"]


def test_no_plug_lies_before_a_treadle():
    treadle = P1 | {"treadle": True, "switches": []}
    front = [{"name": "OUT", "role": "out", "side": "left", "offset": 9}]
    document = board(treadle, P2 | {"jacks": front}, links=[("P2.OUT", "A1.IN")], rules={"plug_gap_mm": 0})
    assert broken(document, at(0, 17), at(90)) == []
    assert broken(document, at(0, 17), at(89)) == ["before a treadle"]


@pytest.mark.parametrize(("x", "wrong"), [(75, []), (74, ["switches"])])
def test_switches_stay_apart(x, wrong):
    assert broken(board(P1, P2), at(0), at(x)) == wrong


@pytest.mark.parametrize(("x", "y", "wrong"), [(130, 20, []), (131, 0, ["pair"]), (130, 21, ["pair"])])
def test_a_pair_stands_together(x, y, wrong):
    assert broken(board(P1 | {"with": ["P2"]}, P2), at(0), at(x, y)) == wrong


def test_a_pair_is_measured_at_its_nearest_switches():
    wide = P2 | {"switches": [{"x": 10, "y": 30}, {"x": 60, "y": 30}]}
    assert broken(board(P1 | {"with": ["p2"]}, wide), at(0), at(155)) == []
    assert broken(board(P1 | {"with": ["p2"]}, wide), at(0), at(156)) == ["pair"]


def test_turns_that_are_not_allowed():
    assert broken(board(P1), at(0, 0, 90)) == ["turn"]
    assert broken(board(P1 | {"turns": [0, 90]}), at(0, 0, 90)) == []


def test_a_pinned_pedal_stays():
    pinned = P1 | {"pinned": True, "place": at(10, 0, 180)}
    assert broken(board(pinned), at(10, 0, 180)) == []
    assert broken(board(pinned), at(11, 0, 180)) == ["pinned"]


def test_a_supply_on_the_frame_is_a_body():
    supply = {"ref": "S2", "width": 100, "depth": 60, "place": at(0, 200, 90), "outlets": []}
    assert broken(board(P1, supplies=[supply]), at(64, 150)) == []
    assert broken(board(P1, supplies=[supply]), at(63, 150)) == ["gap"]
    under = supply | {"place": at(0, 200) | {"under": True}}
    assert broken(board(P1, supplies=[under]), at(63, 150)) == []


def test_cable_is_counted_between_plug_ends():
    """From the rear right corner at (500, 320) to the plug's end at (90, 80): 410 + 240 mm."""
    document = board(P1, links=[("G1.OUT", "P1.IN")])
    assert measure(document, {"P1": at(0)}) == (4 * 650 + 2 * 30, 650)


def test_each_end_has_its_own_corner():
    corners = {"in": {"x": 500, "y": 0}, "out": {"x": 0, "y": 0}}
    document = board(P1, P2, links=[("G1.OUT", "P2.IN"), ("P2.OUT", "P1.IN"), ("P1.OUT", "A1.IN")], **corners)
    assert measure(document, {"P1": at(30), "P2": at(150)})[1] == (260 + 80) + 10 + (10 + 80)


def test_the_switch_nearest_the_front_is_stepped_on():
    two = P1 | {"switches": [{"x": 35, "y": 100}, {"x": 35, "y": 20}], "use": 3, "turns": [180]}
    assert measure(board(two), {"P1": at(0, 7, 180)}) == (3 * (7 + 20), 0)


def test_a_wrong_sum_or_a_lost_pedal_is_told():
    answer = {"places": {"P1": at(0), "P2": at(80)}, "left_out": [], "score": 120, "total_mm": 0}
    assert judge(board(P1, P2), answer) == []
    assert judge(board(P1, P2), answer | {"score": 121}) == ["sums: says 121, 0; is 120, 0"]
    lost = judge(board(P1, P2, pedal("P3")), answer)
    assert lost == ["pedals: ['P1', 'P2'] for ['P1', 'P2', 'P3']"]


def test_the_perfect_squared_square_is_a_right_placing():
    """OEIS A014530: 21 unlike squares fill one of side 112 without a gap."""
    document, places = squared_square()
    assert len(places) == 21
    assert sum(pedal["width"] * pedal["depth"] for pedal in document["pedals"]) == 112 * 112
    assert list_violations(document, places) == []


@pytest.mark.parametrize("ref", sorted(squared_square()[1]))
def test_no_square_of_it_can_move_by_one(ref):
    document, places = squared_square()
    spot = places[ref]
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        assert list_violations(document, places | {ref: at(spot["x"] + dx, spot["y"] + dy)})
