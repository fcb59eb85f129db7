"""The signal as lanes: a main way and what branches off it, and where each lane stands when drawn."""

from dataclasses import replace
from itertools import combinations, pairwise
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardshop.core.order.graph import signal_links
from boardshop.core.order.lane_grid import LaneGrid, lay_out_lanes
from boardshop.core.order.lanes import Lane, Lanes, find_lanes
from boardshop.core.plan import BoardPlan, EndJack, Jack, Pedal
from tests.core import builders as b
from tests.core.documents import load
from tests.core.order_wiring import LOOP_AMP, links, with_jacks
from tests.core.random_boards import documents
from tests.determinism import depends_on_seed

SPLITTER = with_jacks("P2", "splitter", IN="in", OUT_A="out", OUT_B="out")
STEREO = {"IN_L": "in", "IN_R": "in", "OUT_L": "out", "OUT_R": "out"}
LOOPS = {f"{name}_{n}": name.lower() for n in (1, 2, 3) for name in ("SEND", "RETURN")}
SWITCHER = with_jacks("P1", "switcher", IN="in", OUT="out", **LOOPS)


def told(plan: BoardPlan) -> list[str]:
    """`main: G1.OUT P1 P2 A1.IN`; where a lane hangs on another's jack, that jack in brackets."""
    return [f"{lane.kind}: {' '.join(_words(lane))}" for lane in find_lanes(plan).lanes]


def _words(lane: Lane) -> list[str]:
    begins = f"({'.'.join(lane.leaves)})" if lane.leaves else lane.start or "open"
    ends = f"({'.'.join(lane.returns)})" if lane.returns else lane.end or "open"
    return [begins, *lane.stops, ends]


def rows(plan: BoardPlan) -> list[int]:
    grid = lay_out_lanes(find_lanes(plan))
    return [grid.rows[lane.number] for lane in find_lanes(plan).lanes]


def pedals(*numbers: int) -> list[Pedal]:
    return [b.pedal(f"P{number}") for number in numbers]


def mixer(ref: str) -> Pedal:
    return with_jacks(ref, "mixer", IN_A="in", IN_B="in", OUT="out")


def test_a_plain_chain_is_one_lane() -> None:
    """G1 -> P1 -> P2 -> P3 -> A1"""
    plan = b.wired_board(*pedals(1, 2, 3))
    assert told(plan) == ["main: G1.OUT P1 P2 P3 A1.IN"]
    assert find_lanes(plan).lanes[0].links == ("W1", "W2", "W3", "W4")
    assert lay_out_lanes(find_lanes(plan)).columns == {"P1": 0, "P2": 1, "P3": 2}


def test_a_branch_leaves_at_a_splitter_and_returns_at_a_mixer() -> None:
    """G1 -> P1 -> P2 --------------> P5 -> A1
                    +--> P3 -> P4 --^
    """  # fmt: skip
    plan = b.board(
        *pedals(1), SPLITTER, *pedals(3, 4), mixer("P5"),
        links=links(
            "G1.OUT > P1.IN", "P1.OUT > P2.IN", "P2.OUT A > P5.IN A", "P2.OUT B > P3.IN", "P3.OUT > P4.IN",
            "P4.OUT > P5.IN B", "P5.OUT > A1.IN",
        ),
    )  # fmt: skip
    assert told(plan) == ["main: G1.OUT P1 P2 P3 P4 P5 A1.IN", "branch: (P2.OUT A) (P5.IN A)"]
    assert rows(plan) == [0, 1]


def test_wet_and_dry_go_to_their_own_amps() -> None:
    """G1 -> P2 -> P1 -> A1
    +--> P3 -> P4 -> A2
    """
    plan = b.board(
        *pedals(1), SPLITTER, *pedals(3, 4), amps=(b.amp("A1"), b.amp("A2")),
        links=links(
            "G1.OUT > P2.IN", "P2.OUT A > P1.IN", "P1.OUT > A1.IN", "P2.OUT B > P3.IN", "P3.OUT > P4.IN",
            "P4.OUT > A2.IN",
        ),
    )  # fmt: skip
    assert told(plan) == ["main: G1.OUT P2 P1 A1.IN", "branch: (P2.OUT B) P3 P4 A2.IN"]


def test_a_stereo_pair_is_one_join_until_it_parts() -> None:
    """G1 -> P1 ==> P2 -> A1
                     +--> A2
    """  # fmt: skip
    wiring = links("G1.OUT > P1.IN L", "P1.OUT L > P2.IN L", "P1.OUT R > P2.IN R", "P2.OUT L > A1.IN")
    last = b.link("W5", "P2.OUT R", "A2.IN")
    plan = b.board(
        with_jacks("P1", **STEREO), with_jacks("P2", **STEREO), amps=(b.amp("A1"), b.amp("A2")),
        links=(*wiring, last),
    )  # fmt: skip
    assert told(plan) == ["main: G1.OUT P1 P2 A1.IN", "branch: (P2.OUT R) A2.IN"]
    assert find_lanes(plan).lanes[0].joins[1].links == ("W2", "W3")


def test_the_loop_of_an_amp_is_a_lane() -> None:
    """G1 -> P1 -> A1.IN
    A1.SEND -> P2 -> P3 -> A1.RETURN
    """
    plan = b.board(
        *pedals(1, 2, 3), amps=(LOOP_AMP,),
        links=links(
            "G1.OUT > P1.IN", "P1.OUT > A1.IN", "A1.SEND > P2.IN", "P2.OUT > P3.IN", "P3.OUT > A1.RETURN"
        ),
    )  # fmt: skip
    assert told(plan) == ["main: G1.OUT P1 A1.IN", "amp loop: A1.SEND P2 P3 A1.RETURN"]


def test_loops_of_a_switcher_hang_below_it_even_one_through_an_amp() -> None:
    """G1 -> P1 -> P5 -> A1.RETURN
             |send 1 -> P2 -> P3 -> return 1
             |send 2 -> P4 -> return 2
             |send 3 -> A1.IN
             |A1.SEND -> return 3
    """  # fmt: skip
    plan = b.board(
        SWITCHER, *pedals(2, 3, 4, 5), amps=(LOOP_AMP,),
        links=links(
            "G1.OUT > P1.IN", "P1.SEND 1 > P2.IN", "P2.OUT > P3.IN", "P3.OUT > P1.RETURN 1",
            "P1.SEND 2 > P4.IN", "P4.OUT > P1.RETURN 2", "P1.SEND 3 > A1.IN", "A1.SEND > P1.RETURN 3",
            "P1.OUT > P5.IN", "P5.OUT > A1.RETURN",
        ),
    )  # fmt: skip
    assert told(plan) == [
        "main: G1.OUT P1 P5 A1.RETURN",
        "loop: (P1.SEND 1) P2 P3 (P1.RETURN 1)",
        "loop: (P1.SEND 2) P4 (P1.RETURN 2)",
        "branch: (P1.SEND 3) A1.IN",
        "amp loop: A1.SEND (P1.RETURN 3)",
    ]
    assert rows(plan) == [0, 1, 2, 3, 4]
    assert lay_out_lanes(find_lanes(plan)).hangs == {2: "P1", 3: "P1", 4: "P1", 5: "P1"}


def test_a_loop_in_a_loop_hangs_below_the_inner_switcher() -> None:
    """G1 -> P1 -> A1
    |send 1 -> P2 -> return 1
               |send 1 -> P3 -> return 1
    """
    inner = replace(SWITCHER, ref="P2")
    plan = b.board(
        SWITCHER, inner, *pedals(3),
        links=links(
            "G1.OUT > P1.IN", "P1.OUT > A1.IN", "P1.SEND 1 > P2.IN", "P2.OUT > P1.RETURN 1",
            "P2.SEND 1 > P3.IN", "P3.OUT > P2.RETURN 1",
        ),
    )  # fmt: skip
    assert told(plan) == [
        "main: G1.OUT P1 A1.IN",
        "loop: (P1.SEND 1) P2 (P1.RETURN 1)",
        "loop: (P2.SEND 1) P3 (P2.RETURN 1)",
    ]
    assert lay_out_lanes(find_lanes(plan)).columns == {"P1": 0, "P2": 1, "P3": 2}


def test_a_tap_and_a_tuner_on_its_own_output_end_open() -> None:
    """G1 -> P1 -> P3 -> A1
    |send 1 -> P2
          +--> P4 (from P3's second output)
    """
    plan = b.board(
        SWITCHER, b.pedal("P2", "looper"), replace(SPLITTER, ref="P3"), b.pedal("P4", "tuner"),
        links=links(
            "G1.OUT > P1.IN", "P1.SEND 1 > P2.IN", "P1.OUT > P3.IN", "P3.OUT A > A1.IN", "P3.OUT B > P4.IN"
        ),
    )  # fmt: skip
    assert told(plan) == [
        "main: G1.OUT P1 P3 A1.IN",
        "branch: (P1.SEND 1) P2 open",
        "branch: (P3.OUT B) P4 open",
    ]


def test_a_ring_leads_back() -> None:
    """G1 -> P1 -> P2 -> A1
    ^-- P3 <-+
    """
    plan = b.board(
        mixer("P1"), SPLITTER, *pedals(3),
        links=links(
            "G1.OUT > P1.IN A", "P1.OUT > P2.IN", "P2.OUT A > A1.IN", "P2.OUT B > P3.IN", "P3.OUT > P1.IN B"
        ),
    )  # fmt: skip
    assert told(plan) == ["main: G1.OUT P1 P2 A1.IN", "branch: (P2.OUT B) P3 (P1.IN B)"]
    assert [join.links for join in find_lanes(plan).joins if join.is_back] == [("W5",)]


def test_a_ring_that_nothing_feeds_stands_apart() -> None:
    """P2 -> P3 -> (P2)"""
    plan = b.board(*pedals(1, 2, 3), links=(*b.chain("G1", "P1", "A1"), *b.chain("P2", "P3", "P2", first=3)))
    assert told(plan) == ["main: G1.OUT P1 A1.IN", "apart: open P2 P3 (P2.IN)"]


def test_a_second_instrument_joins_at_the_mixer() -> None:
    """G1 -> P1 -> P3 -> A1
    G2 -> P2 --^
    """
    plan = b.board(
        *pedals(1, 2), mixer("P3"), sources=(b.guitar("G1"), b.guitar("G2")),
        links=links(
            "G1.OUT > P1.IN", "P1.OUT > P3.IN A", "G2.OUT > P2.IN", "P2.OUT > P3.IN B", "P3.OUT > A1.IN"
        ),
    )  # fmt: skip
    assert told(plan) == ["main: G1.OUT P1 P3 A1.IN", "branch: G2.OUT P2 (P3.IN B)"]


def test_pedals_without_links_are_in_no_lane() -> None:
    """G1 -> P1 -> A1    P2    P3 -> P4"""
    plan = b.board(*pedals(1, 2, 3, 4), links=(*b.chain("G1", "P1", "A1"), *b.chain("P3", "P4", first=3)))
    assert told(plan) == ["main: G1.OUT P1 A1.IN", "apart: open P3 P4 open"]
    assert find_lanes(plan).not_wired == ("P2",)
    assert find_lanes(b.board(*pedals(1))).lanes == ()


def test_the_main_lane_takes_the_way_past_the_most_pedals_not_in_loops() -> None:
    """P1's loop holds two pedals, its output none, and its way to the amp leads by the output."""
    plan = b.board(
        SWITCHER, *pedals(2, 3),
        links=links(
            "G1.OUT > P1.IN", "P1.SEND 1 > P2.IN", "P2.OUT > P3.IN", "P3.OUT > P1.RETURN 1", "P1.OUT > A1.IN"
        ),
    )  # fmt: skip
    assert find_lanes(plan).lanes[0].stops == ("P1",)


def wild_plan(number: int, count: int = 0, fill: float = 1.0) -> BoardPlan:
    """Pedals with many jacks, linked at random: rings, loops, several ends, pedals on their own."""
    draw = Random(number)
    count = count or draw.randint(1, 14)
    made, outputs, inputs = [], ["G1.OUT", "G2.OUT", "A1.SEND"], ["A1.IN", "A1.RETURN", "A2.IN"]
    most = count if fill == 1.0 and count > 20 else 3
    for at in range(1, count + 1):
        roles = {role: draw.randint(0 if most == 3 else most, most) for role in ("in", "out")}
        roles |= {role: draw.choice((0, 0, 0, 3)) for role in ("send", "return")}
        named = [(f"{role} {n}", role) for role, many in roles.items() for n in range(many)]
        made.append(b.pedal(f"P{at}", "other", jacks=tuple(Jack(*one) for one in named)))
        outputs += [f"P{at}.{name}" for name, role in named if role in ("out", "send")]
        inputs += [f"P{at}.{name}" for name, role in named if role in ("in", "return")]
    draw.shuffle(inputs)
    pairs = [f"{draw.choice(outputs)} > {end}" for end in inputs[: round(fill * len(inputs))]]
    amps = (LOOP_AMP, b.amp("A2", jacks=(EndJack("IN", "in"),)))
    return b.board(*made, sources=(b.guitar("G1"), b.guitar("G2")), amps=amps, links=links(*pairs))


def check(plan: BoardPlan) -> None:
    lanes = find_lanes(plan)
    linked = [ref for lane in lanes.lanes for ref in lane.stops]
    assert sorted((*linked, *lanes.not_wired)) == sorted(pedal.ref for pedal in plan.pedals)
    taken = [ref for lane in lanes.lanes for ref in lane.links]
    assert sorted(taken) == sorted(link.ref for link in signal_links(plan))
    assert all(lane.kind == "main" for lane in lanes.lanes[:1])
    check_grid(lanes, lay_out_lanes(lanes))


def check_grid(lanes: Lanes, grid: LaneGrid) -> None:
    column = grid.columns
    for join in lanes.joins:
        if join.from_pedal and join.to_pedal and not join.is_back:
            assert column[join.source] < column[join.target]
    for lane in lanes.lanes:
        assert all(column[one] < column[other] for one, other in pairwise(lane.stops))
        low, high = grid.spans[lane.number]
        assert all(low <= 2 * column[stop] <= high for stop in lane.stops)
    for one, other in combinations(lanes.lanes, 2):
        if grid.rows[one.number] == grid.rows[other.number]:
            (low, high), (least, most) = grid.spans[one.number], grid.spans[other.number]
            assert high < least or most < low
    cells = [(grid.rows[lane.number], column[stop]) for lane in lanes.lanes for stop in lane.stops]
    assert len(cells) == len(set(cells))
    check_hanging(lanes, grid, set(cells))


def check_hanging(lanes: Lanes, grid: LaneGrid, cells: set[tuple[int, int]]) -> None:
    """Nothing stands between a pedal and the lanes that hang below it."""
    row_of = {ref: grid.rows[lane.number] for lane in lanes.lanes for ref in lane.stops}
    for number, owner in grid.hangs.items():
        below = range(row_of[owner] + 1, grid.rows[number] + 1)
        assert below
        assert not {(row, grid.columns[owner]) for row in below} & cells


@given(documents())
def test_any_board_that_loads_falls_into_lanes(document: dict[str, object]) -> None:
    check(load(document))


@given(st.integers(0, 2**32), st.sampled_from([0.4, 0.7, 1.0]))
def test_any_wiring_falls_into_lanes(number: int, fill: float) -> None:
    check(wild_plan(number, fill=fill))


@pytest.mark.parametrize("number", range(3))
def test_forty_pedals_linked_to_all_others_fall_into_lanes(number: int) -> None:
    plan = wild_plan(number, count=40)
    assert len(plan.links) > 1_500
    check(plan)


def test_lanes_do_not_depend_on_the_hash_seed() -> None:
    program = (
        "from tests.core.test_order_lanes import *\n"
        "for number in range(20):\n"
        "    lanes = find_lanes(wild_plan(number))\n"
        "    print(lanes, lay_out_lanes(lanes))"
    )
    assert not depends_on_seed(["-c", program], ("0", "1"))
