"""The balloons count as the signal goes."""

from boardshop.core.numbering import number_pedals
from boardshop.core.plan import Jack
from tests.core import builders as b


def test_along_one_line() -> None:
    plan = b.wired_board(b.pedal("P3"), b.pedal("P1"), b.pedal("P2"))
    assert number_pedals(plan) == {"P3": 1, "P1": 2, "P2": 3}


def test_a_pedal_that_is_not_linked_has_no_number() -> None:
    plan = b.board(b.pedal("P1"), b.pedal("P2"), links=b.chain("G1", "P1", "A1"))
    assert number_pedals(plan) == {"P1": 1}


def test_branches_one_after_the_other_then_what_joins_them() -> None:
    #        /-- P2 --\
    # G1 - P1          P4 - A1
    #        \-- P3 --/
    split = b.pedal("P1", "splitter", jacks=(Jack("IN", "in"), Jack("A", "out"), Jack("B", "out")))
    mixer = b.pedal("P4", "mixer", jacks=(Jack("A", "in"), Jack("B", "in"), Jack("OUT", "out")))
    plan = b.board(
        mixer,
        split,
        b.pedal("P2"),
        b.pedal("P3"),
        links=(
            b.link("W1", "G1.OUT", "P1.IN"),
            b.link("W2", "P1.A", "P2.IN"),
            b.link("W3", "P1.B", "P3.IN"),
            b.link("W4", "P2.OUT", "P4.A"),
            b.link("W5", "P3.OUT", "P4.B"),
            b.link("W6", "P4.OUT", "A1.IN"),
        ),
    )
    assert number_pedals(plan) == {"P1": 1, "P2": 2, "P3": 3, "P4": 4}


def test_a_switchers_loop_counts_between_the_switcher_and_what_follows() -> None:
    # G1 - P1 (send - P2 - P3 - return) - P4 - A1
    jacks = (Jack("IN", "in"), Jack("S1", "send"), Jack("R1", "return"), Jack("OUT", "out"))
    plan = b.board(
        b.pedal("P4", "delay"),
        b.pedal("P3"),
        b.pedal("P2"),
        b.pedal("P1", "switcher", jacks=jacks),
        links=(
            b.link("W1", "G1.OUT", "P1.IN"),
            b.link("W2", "P1.S1", "P2.IN"),
            b.link("W3", "P2.OUT", "P3.IN"),
            b.link("W4", "P3.OUT", "P1.R1"),
            b.link("W5", "P1.OUT", "P4.IN"),
            b.link("W6", "P4.OUT", "A1.IN"),
        ),
    )
    assert number_pedals(plan) == {"P1": 1, "P2": 2, "P3": 3, "P4": 4}
