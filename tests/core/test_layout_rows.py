"""Place numbers: rows front to rear, left to right in the player's view."""

from boardshop.core.layout.rows import number_places
from tests.core.builders import board, pedal


def test_two_rows() -> None:
    """
    y 140   P1 P2
    y   0   P4    P3        P4 is the farther left
    """
    plan = board(
        pedal("P1", at=(0, 140)),
        pedal("P2", at=(100, 150)),
        pedal("P3", at=(300, 5)),
        pedal("P4", at=(10, 0)),
    )
    assert number_places(plan) == {"P4": "F1", "P3": "F2", "P1": "R1", "P2": "R2"}


def test_a_deep_treadle_stands_in_the_front_row_and_keeps_the_rear_one_apart() -> None:
    plan = board(
        pedal("P1", "wah", at=(500, 0), width=100, depth=250),
        pedal("P2", at=(0, 0)),
        pedal("P3", at=(0, 134)),
    )
    assert number_places(plan) == {"P2": "F1", "P1": "F2", "P3": "R1"}


def test_touching_edges_part_two_rows() -> None:
    plan = board(pedal("P1", at=(0, 0), depth=120), pedal("P2", at=(0, 119)), pedal("P3", at=(0, 120)))
    assert number_places(plan) == {"P1": "F1", "P2": "F2", "P3": "R1"}


def test_three_and_four_rows() -> None:
    rows = [pedal(f"P{i}", at=(0, 130 * i)) for i in range(4)]
    assert list(number_places(board(*rows[:3])).values()) == ["F1", "M1", "R1"]
    assert list(number_places(board(*rows)).values()) == ["F1", "M1-1", "M2-1", "R1"]


def test_what_is_not_placed_has_no_place_number() -> None:
    assert number_places(board(pedal("P1"), pedal("P2", at=(0, 0)))) == {"P2": "F1"}
