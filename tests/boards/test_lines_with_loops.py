"""Lines through a switcher's loops: pedals moved within, between and out of them."""

import pytest

from boardshop.boards.errors import EmptyLoop, NoLoopLeft, PassedAgain, PedalTwice
from boardshop.boards.models import Board
from boardshop.boards.services.lines import choose_loops
from boardshop.boards.services.order import move_in_line, wire_line
from boardshop.core.order import signal_paths
from tests.board_factories import links_of, make_board, plan_of
from tests.core.builders import pedal
from tests.core.order_wiring import LOOP_AMP, links, with_jacks
from tests.factories import Cast

pytestmark = pytest.mark.django_db
SWITCHER = with_jacks(
    "SW",
    "switcher",
    IN="in",
    S1="send",
    R1="return",
    S2="send",
    R2="return",
    S3="send",
    R3="return",
    OUT="out",
)
LOOPS = [("SW.S1", "SW.R1"), ("SW.S2", "SW.R2"), ("SW.S3", "SW.R3")]


def switched(cast: Cast) -> Board:
    """
    G1 - P1 - SW [1: P2 P3] [2: P4] [3: empty] - P5 - A1
    """
    wired = links(
        "G1.OUT > P1.IN", "P1.OUT > SW.IN", "SW.S1 > P2.IN", "P2.OUT > P3.IN", "P3.OUT > SW.R1",
        "SW.S2 > P4.IN", "P4.OUT > SW.R2", "SW.OUT > P5.IN", "P5.OUT > A1.IN",
    )  # fmt: skip
    pedals = [pedal(f"P{number}") for number in range(1, 6)]
    return make_board(cast.shop, pedals=[pedals[0], SWITCHER, *pedals[1:]], links=wired)


def stops(board: Board) -> str:
    (path,) = signal_paths(plan_of(board))
    return " ".join(path.stops)


def wire(board: Board, refs: str) -> None:
    wire_line(board, board.edit_number, 0, refs.split())


def test_the_stops_name_the_switcher_each_time_it_is_passed(cast: Cast) -> None:
    assert stops(switched(cast)) == "P1 SW P2 P3 SW P4 SW P5"


@pytest.mark.parametrize(
    ("ref", "position", "after"),
    [
        ("P3", 3, "P1 SW P3 P2 SW P4 SW P5"),  # within its loop
        ("P3", 5, "P1 SW P2 SW P3 P4 SW P5"),  # into the next one
        ("P3", 1, "P3 P1 SW P2 SW P4 SW P5"),  # in front of the switcher
        ("P4", 8, "P1 SW P2 P3 SW P5 P4"),  # behind it: its loop is left empty
        ("P5", 2, "P1 P5 SW P2 P3 SW P4 SW"),
    ],
)
def test_a_pedal_moves_in_and_out_of_loops(cast: Cast, ref: str, position: int, after: str) -> None:
    board = switched(cast)
    move_in_line(board, board.edit_number, 0, ref, position)
    assert stops(board) == after


def test_pedals_that_stay_keep_their_loops_and_links(cast: Cast) -> None:
    """P2 and P3 leave loop 1, and P4 stays in loop 2 although it is the only one now."""
    board = switched(cast)
    before = links_of(board)
    wire(board, "P2 P3 P1 SW P4 SW P5")
    after = links_of(board)
    assert {ref for ref in before if before[ref] == after.get(ref)} >= {"W2", "W4", "W6", "W7", "W8", "W9"}
    assert stops(board) == "P2 P3 P1 SW P4 SW P5"


def test_a_free_loop_takes_what_is_written_into_it(cast: Cast) -> None:
    board = switched(cast)
    wire(board, "P1 SW P2 P3 SW P4 SW P5 SW")
    assert stops(board) == "P1 SW P2 P3 SW P4 SW P5 SW"
    assert {"SW.S3 P5.IN", "P5.OUT SW.R3", "SW.OUT A1.IN"} <= set(links_of(board).values())


def test_more_passes_than_loops_are_refused(cast: Cast) -> None:
    board = switched(cast)
    before = links_of(board)
    with pytest.raises(NoLoopLeft, match="takes 4 loops; it has 3"):
        wire(board, "SW P1 SW P2 SW P3 SW P4 SW P5")
    board.refresh_from_db()
    assert links_of(board) == before


def test_the_switcher_itself_is_not_moved_by_a_position(cast: Cast) -> None:
    board = switched(cast)
    with pytest.raises(PassedAgain, match="SW has loops"):
        move_in_line(board, board.edit_number, 0, "SW", 1)


@pytest.mark.parametrize(
    ("refs", "refusal"), [("P1 SW SW P2 P3 P4 P5", EmptyLoop), ("P1 P2 P1 SW P3 P4 P5", PedalTwice)]
)
def test_an_empty_loop_or_a_pedal_twice_is_refused(cast: Cast, refs: str, refusal: type[Exception]) -> None:
    with pytest.raises(refusal):
        wire(switched(cast), refs)


def test_a_loop_that_the_amp_takes_is_not_free(cast: Cast) -> None:
    """
    G1 - SW [1: P1] -S2- A1.IN    A1.SEND -R2- SW - P2 - A1.RETURN
    """
    wired = links(
        "G1.OUT > SW.IN", "SW.S1 > P1.IN", "P1.OUT > SW.R1", "SW.S2 > A1.IN",
        "A1.SEND > SW.R2", "SW.OUT > P2.IN", "P2.OUT > A1.RETURN",
    )  # fmt: skip
    board = make_board(cast.shop, pedals=[SWITCHER, pedal("P1"), pedal("P2")], links=wired, amps=(LOOP_AMP,))
    move_in_line(board, board.edit_number, 0, "P1", 1)
    assert sorted(links_of(board).values()) == sorted(
        ["G1.OUT P1.IN", "P1.OUT SW.IN", "SW.S2 A1.IN", "A1.SEND SW.R2", "SW.OUT P2.IN", "P2.OUT A1.RETURN"]
    )


def test_a_pedal_goes_from_one_way_to_another_and_its_gap_closes(cast: Cast) -> None:
    """
    G1 - P1 - SW [1: P2] -S2- A1.IN   A1.SEND -R2- SW - P3 - P4 - A1.RETURN
    """
    wired = links(
        "G1.OUT > P1.IN", "P1.OUT > SW.IN", "SW.S1 > P2.IN", "P2.OUT > SW.R1", "SW.S2 > A1.IN",
        "A1.SEND > SW.R2", "SW.OUT > P3.IN", "P3.OUT > P4.IN", "P4.OUT > A1.RETURN",
    )  # fmt: skip
    pedals = [pedal("P1"), SWITCHER, pedal("P2"), pedal("P3"), pedal("P4")]
    board = make_board(cast.shop, pedals=pedals, links=wired, amps=(LOOP_AMP,))
    move_in_line(board, board.edit_number, 0, "P3", 1)
    ways = [" ".join(path.stops) for path in signal_paths(plan_of(board))]
    assert ways == ["P3 P1 SW P2 SW", "SW P4"]
    board.refresh_from_db()
    move_in_line(board, board.edit_number, 1, "P2", 3)
    ways = [" ".join(path.stops) for path in signal_paths(plan_of(board))]
    assert ways == ["P3 P1 SW", "SW P4 P2"]
    assert board.edit_number == 2  # one edit each


@pytest.mark.parametrize(
    ("held", "inside", "chosen"),
    [
        ({"sw.s1": ("p1",), "sw.s2": ("p2",)}, [["p2"]], [1]),
        ({"sw.s1": ("p1",), "sw.s2": ("p2",)}, [["p1"], ["p2"]], [0, 1]),
        ({"sw.s1": ("p1",), "sw.s2": ("p2",)}, [["p2"], ["p1"]], [1, 2]),  # the signal takes loop 1 first
        ({"sw.s3": ("p1",)}, [["p2"], ["p1"]], [0, 2]),
        ({}, [["p1"], ["p2"], ["p3"]], [0, 1, 2]),
        ({}, [["p1"], ["p2"], ["p3"], ["p4"]], None),
        ({}, [], []),
    ],
)
def test_loops_are_chosen_in_the_signals_order_with_the_most_pedals_left_where_they_are(
    held: dict[str, tuple[str, ...]], inside: list[list[str]], chosen: list[int] | None
) -> None:
    expected = None if chosen is None else [LOOPS[number] for number in chosen]
    assert choose_loops(LOOPS, held, inside) == expected
