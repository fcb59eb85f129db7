"""Wiring a line anew where the board's signal is in pieces: what is joined, kept, freed and refused."""

from collections.abc import Iterable
from itertools import combinations, pairwise, permutations
from typing import Any

import pytest

from boardshop.boards.errors import InputHeld, NothingInLine, OnAnotherLine
from boardshop.boards.models import Board, Link
from boardshop.boards.services.links import remove_link
from boardshop.boards.services.order import move_in_line, wire_line
from boardshop.core.order import signal_paths
from tests.board_factories import links_of, make_board, plan_of
from tests.core import builders as b
from tests.core.order_wiring import links, with_jacks
from tests.factories import Cast

pytestmark = pytest.mark.django_db
FOUR = "P1 P2 P3 P4"
SPLITTER = with_jacks("P1", "splitter", IN="in", A="out", B="out")
MIXER = with_jacks("P3", "mixer", IN1="in", IN2="in", OUT="out")


def cut(board: Board, *refs: str) -> None:
    for ref in refs:
        remove_link(board, board.edit_number, Link.objects.get(board=board, ref=ref))


def wire(board: Board, refs: str, line: int = 0) -> None:
    board.refresh_from_db()
    wire_line(board, board.edit_number, line, refs.split())


def line_through(refs: str) -> list[str]:
    """The links of one line from G1 to A1, as people would draw it."""
    ends = ["G1", *refs.split(), "A1"]
    return sorted(f"{one}.OUT {other}.IN" for one, other in pairwise(ends))


def inputs(found: Iterable[str]) -> list[str]:
    return [ends.split()[1] for ends in found]


@pytest.mark.parametrize("cuts", [set(pair) for pair in combinations(("W1", "W2", "W3", "W4", "W5"), 2)])
def test_a_line_in_pieces_is_one_again_from_whichever_piece(cast: Cast, cuts: set[str]) -> None:
    board = make_board(cast.shop, 4)
    Link.objects.filter(board=board).update(made=165)
    cut(board, *cuts)
    kept = dict(Link.objects.filter(board=board).values_list("pk", "ref"))
    pieces = signal_paths(plan_of(board))
    wire(board, FOUR, line=len(pieces) - 1)
    open_ends = {"W1": "G1.OUT P1.IN", "W5": "P4.OUT A1.IN"}
    lost = {open_ends[ref] for ref in cuts & set(open_ends)}
    assert set(links_of(board).values()) == set(line_through(FOUR)) - lost
    assert set(kept) <= set(Link.objects.filter(board=board, made=165).values_list("pk", flat=True))


@pytest.mark.parametrize("refs", [" ".join(refs) for refs in permutations(FOUR.split())])
def test_a_cut_line_is_wired_in_any_sequence(cast: Cast, refs: str) -> None:
    board = make_board(cast.shop, 4)
    cut(board, "W3")
    wire(board, refs)
    assert sorted(links_of(board).values()) == line_through(refs)


def test_the_lead_to_the_amp_keeps_what_it_is(cast: Cast) -> None:
    board = make_board(cast.shop, 4)
    lead = Link.objects.get(board=board, ref="W5")
    Link.objects.filter(pk=lead.pk).update(length=6000)
    cut(board, "W3")
    wire(board, "P3 P4 P1 P2")
    lead.refresh_from_db()
    assert (links_of(board)["W5"], lead.length) == ("P2.OUT A1.IN", 6000)


def test_a_lead_straight_to_the_amp_gives_way_to_pedals(cast: Cast) -> None:
    board = make_board(cast.shop, 2, links=b.chain("G1", "A1", length=3000))
    wire(board, "P1 P2")
    assert sorted(links_of(board).values()) == line_through("P1 P2")
    assert (links_of(board)["W1"], Link.objects.get(ref="W1").length) == ("G1.OUT P1.IN", 3000)


def test_pedals_linked_only_to_each_other_go_between_that_lead_too(cast: Cast) -> None:
    board = make_board(cast.shop, 2, links=links("G1.OUT > A1.IN", "P1.OUT > P2.IN"))
    wire(board, "P1 P2")
    assert sorted(links_of(board).values()) == line_through("P1 P2")


def test_what_would_be_cut_off_another_line_is_refused_by_name(cast: Cast) -> None:
    board = make_board(cast.shop, 4)
    cut(board, "W3")
    before = links_of(board)
    with pytest.raises(OnAnotherLine, match="P3 stands on way 2, P3 P4, and P4 would be cut off") as refused:
        wire(board, "P1 P2 P3")
    assert (refused.value.field, links_of(board)) == ("refs", before)


def test_the_way_out_that_is_named_leads_out(cast: Cast) -> None:
    board = make_board(cast.shop, 4)
    cut(board, "W3")
    wire(board, "P4", line=1)
    wire(board, "P1 P2 P3")
    assert sorted(links_of(board).values()) == [
        "G1.OUT P1.IN", "P1.OUT P2.IN", "P2.OUT P3.IN", "P4.OUT A1.IN",
    ]  # fmt: skip


def test_an_empty_sequence_is_refused(cast: Cast) -> None:
    board = make_board(cast.shop, 2)
    with pytest.raises(NothingInLine, match="names no pedal"):
        wire(board, "")
    assert sorted(links_of(board).values()) == line_through("P1 P2")


def test_a_branch_that_is_named_whole_becomes_part_of_the_line(cast: Cast) -> None:
    """The splitter's second output fed P3; in one line only one link leads to P3."""
    wired = links("G1.OUT > P1.IN", "P1.A > P2.IN", "P2.OUT > A1.IN", "P1.B > P3.IN", "P3.OUT > A2.IN")
    pedals = [SPLITTER, b.pedal("P2"), b.pedal("P3")]
    board = make_board(cast.shop, pedals, amps=(b.amp(), b.amp("A2")), links=wired, feeds=())
    wire(board, "P1 P3 P2")
    assert sorted(links_of(board).values()) == [
        "G1.OUT P1.IN", "P1.B P3.IN", "P2.OUT A1.IN", "P3.OUT P2.IN",
    ]  # fmt: skip


def test_a_dry_path_beside_the_line_stays(cast: Cast) -> None:
    wired = links("G1.OUT > P1.IN", "P1.A > P2.IN", "P2.OUT > P3.IN1", "P1.B > P3.IN2", "P3.OUT > A1.IN")
    board = make_board(cast.shop, [SPLITTER, b.pedal("P2"), MIXER, b.pedal("P4")], links=wired, feeds=())
    wire(board, "P1 P4 P2 P3")
    assert sorted(links_of(board).values()) == [
        "G1.OUT P1.IN", "P1.A P4.IN", "P1.B P3.IN2", "P2.OUT P3.IN1", "P3.OUT A1.IN", "P4.OUT P2.IN",
    ]  # fmt: skip


@pytest.mark.parametrize(("refs", "freed"), [("P2 P9 P1", "P1.OUT P9.IN"), ("P1 P9 P2", "P1.OUT P2.IN")])
def test_a_tuner_beside_the_line_is_taken_into_it(cast: Cast, refs: str, freed: str) -> None:
    """It is on no path, since no signal leaves it, but its input has a link."""
    wired = links("G1.OUT > P1.IN", "P1.OUT > P2.IN", "P2.OUT > A1.IN", "P1.OUT > P9.IN")
    pedals = [b.pedal("P1"), b.pedal("P2"), b.pedal("P9", "tuner")]
    board = make_board(cast.shop, pedals, links=wired, feeds=())
    wire(board, refs)
    assert sorted(links_of(board).values()) == line_through(refs)
    assert freed not in links_of(board).values()


def test_an_input_held_by_a_pedal_that_is_not_named_is_refused(cast: Cast) -> None:
    tuner, tapped = b.pedal("P9", "tuner"), with_jacks("P3", "volume", IN="in", OUT="out", TUNER="out")
    wired = links("G1.OUT > P1.IN", "P1.OUT > P3.IN", "P3.OUT > A1.IN", "P3.TUNER > P9.IN")
    board = make_board(cast.shop, [b.pedal("P1"), tapped, tuner], links=wired, feeds=())
    with pytest.raises(InputHeld, match=r"P9\.IN is taken by W4 from P3\.TUNER"):
        wire(board, "P1 P9")


def test_a_receiver_without_an_input_can_stand_first(cast: Cast) -> None:
    receiver = with_jacks("P1", "wireless-receiver", OUT="out")
    wired = links("P1.OUT > P2.IN", "P2.OUT > P3.IN", "P3.OUT > A1.IN")
    board = make_board(cast.shop, [receiver, b.pedal("P2"), b.pedal("P3")], links=wired, feeds=())
    wire(board, "P1 P3 P2")
    assert sorted(links_of(board).values()) == ["P1.OUT P3.IN", "P2.OUT A1.IN", "P3.OUT P2.IN"]


LEAD = {"cable": "C2", "plug_from": "J2", "plug_to": "J2", "route": "under", "screen": "isolated"}


def board_with_leads_of_their_own(cast: Cast, *patches: Any, pedals: int = 3) -> Board:
    """P1 alone on its line, leads of C2 with J2 at both ends; `patches` are links between other pedals."""
    leads = (b.link("W1", "G1.OUT", "P1.IN", **LEAD), b.link("W2", "P1.OUT", "A1.IN", **LEAD))
    return make_board(
        cast.shop,
        [b.pedal(f"P{n}") for n in range(1, pedals + 1)],
        links=(*leads, *patches),
        cables=(b.cable_type(name="Patch cable"), b.cable_type("C2", name="Lead cable")),
        plugs=(b.plug_type(name="Flat plug"), b.plug_type("J2", name="Straight plug"), b.dc_plug_type()),
        feeds=(),
    )


def names_of(board: Board, ends: str) -> tuple[Any, ...]:
    ref = next(ref for ref, found in links_of(board).items() if found == ends)
    link = Link.objects.get(board=board, ref=ref)
    names = [one.name if one else None for one in (link.cable, link.plug_from, link.plug_to)]
    return (*names, link.route, link.screen)


AS_PATCHES_ARE = ("Patch cable", "Flat plug", "Flat plug", "top", "joined")
NOT_KNOWN = (None, None, None, "top", "joined")


def test_a_new_patch_is_never_made_like_a_lead(cast: Cast) -> None:
    board = board_with_leads_of_their_own(cast)
    wire(board, "P1 P2")
    assert names_of(board, "P1.OUT P2.IN") == NOT_KNOWN
    assert names_of(board, "P2.OUT A1.IN") == (
        "Lead cable",
        "Straight plug",
        "Straight plug",
        "under",
        "isolated",
    )


def test_a_new_patch_is_made_like_another_one_of_the_board(cast: Cast) -> None:
    board = board_with_leads_of_their_own(cast, b.link("W3", "P3.OUT", "P4.IN"), pedals=4)
    wire(board, "P1 P2")
    assert names_of(board, "P1.OUT P2.IN") == AS_PATCHES_ARE


def test_a_patch_of_the_line_goes_before_others_of_the_board(cast: Cast) -> None:
    own, other = b.link("W3", "P2.OUT", "P3.IN"), b.link("W4", "P4.OUT", "P5.IN", **LEAD)
    board = board_with_leads_of_their_own(cast, other, own, pedals=5)
    wire(board, "P1 P2 P3")
    assert names_of(board, "P1.OUT P2.IN") == AS_PATCHES_ARE


def test_a_new_lead_is_not_made_from_a_patch(cast: Cast) -> None:
    board = make_board(cast.shop, 3, links=links("G1.OUT > P1.IN", "P1.OUT > P2.IN"))
    Link.objects.filter(board=board, ref="W1").delete()
    Link.objects.create(
        board=board, ref="W7", from_item=board.items.get(ref="G1"), from_name="OUT",
        to_item=board.items.get(ref="A1"), to_name="IN",
    )  # fmt: skip
    wire(board, "P2 P1")
    assert sorted(links_of(board).values()) == line_through("P2 P1")
    assert Link.objects.get(board=board, to_name="IN").cable is None


def test_no_input_ever_holds_two_links(cast: Cast) -> None:
    board = make_board(cast.shop, 4)
    cut(board, "W3")
    for refs in ("P2 P4 P1 P3", "P1", "P3 P1", "P4 P3 P2 P1"):
        wire(board, refs)
        found = inputs(links_of(board).values())
        assert sorted(set(found)) == sorted(found)


def test_a_pedal_of_a_cut_line_moves_within_its_piece(cast: Cast) -> None:
    board = make_board(cast.shop, 4)
    cut(board, "W3")
    move_in_line(board, board.edit_number, 1, "P4", 1)
    assert sorted(links_of(board).values()) == [
        "G1.OUT P1.IN", "P1.OUT P2.IN", "P3.OUT A1.IN", "P4.OUT P3.IN",
    ]  # fmt: skip
