"""The edits, seen through the plan that they leave behind."""

import pytest

from boardshop.boards import errors
from boardshop.boards.models import Board, Feed, Link, Placement
from boardshop.boards.plan.read import load_plan
from boardshop.boards.plan.write import store_plan
from boardshop.boards.services.boards import copy_board
from boardshop.boards.services.feeds import Chosen, FeedColumns, feed_jack, feed_pedal, unfeed
from boardshop.boards.services.links import connect_jacks, remove_link
from boardshop.boards.services.order import move_in_line, wire_line
from boardshop.boards.services.pedals import add_pedal, change_pedal, place_pedal, remove_pedal
from boardshop.core.order.paths import signal_paths
from boardshop.gear.models import PedalModel
from tests.core import builders as b
from tests.factories import make_shop

pytestmark = pytest.mark.django_db


def make_board(*refs: str) -> Board:
    """Named pedals in a line from G1 to A1, one supply, P1 fed."""
    pedals = [b.pedal(ref, name=f"Pedal {ref}") for ref in refs]
    supplies = (b.supply("S1", b.outlet("1"), b.outlet("2", settings=())),)
    feeds = (b.feed("S1.1", f"{refs[0]}.DC"),) if refs else ()
    return store_plan(make_shop(), b.wired_board(*pedals, supplies=supplies, feeds=feeds), name="Main")


def line(board: Board) -> str:
    return " ".join(signal_paths(load_plan(board))[0].refs)


def placement(board: Board, ref: str) -> Placement:
    return Placement.objects.get(board=board, ref=ref)


def links(board: Board) -> dict[str, str]:
    return {link.ref: f"{link.source} {link.target}" for link in load_plan(board).links}


def test_an_edit_counts_up() -> None:
    board = make_board("P1")
    place_pedal(board, 0, placement(board, "P1"), 10, 20, 90)
    assert Board.objects.get(pk=board.pk).edit_number == board.edit_number == 1


def test_a_stale_edit_changes_nothing() -> None:
    board = make_board("P1")
    place_pedal(board, 0, placement(board, "P1"), 10, 20, 0)
    with pytest.raises(errors.StaleEdit, match="Main"):
        place_pedal(board, 0, placement(board, "P1"), 99, 99, 0)
    assert placement(board, "P1").x == 10


def test_a_refused_edit_does_not_count() -> None:
    board = make_board("P1")
    with pytest.raises(errors.RefTaken):
        add_pedal(board, 0, PedalModel.objects.get(), ref="p1")
    assert Board.objects.get(pk=board.pk).edit_number == 0


def test_a_new_pedal_gets_the_next_ref() -> None:
    board = make_board("P1", "P3")
    assert add_pedal(board, 0, PedalModel.objects.first()).ref == "P2"


def test_gear_of_another_shop_is_refused() -> None:
    board, other = make_board("P1"), make_board("P1")
    with pytest.raises(errors.NotOfThisShop):
        add_pedal(board, 0, PedalModel.objects.get(shop=other.shop))


def test_removing_a_pedal_takes_its_links_and_its_feed() -> None:
    board = make_board("P1", "P2")
    remove_pedal(board, 0, placement(board, "P1"))
    assert (list(links(board)), Feed.objects.count()) == (["W3"], 0)


def test_another_model_keeps_links_on_jacks_of_the_same_name() -> None:
    board = make_board("P1", "P2")
    model = placement(board, "P2").model
    change_pedal(board, 0, placement(board, "P1"), model, None, [], on=True)
    assert links(board) == {"W1": "G1.OUT P1.IN", "W2": "P1.OUT P2.IN", "W3": "P2.OUT A1.IN"}
    assert load_plan(board).feeds[0].jacks == ("P1.DC",)


@pytest.mark.parametrize(
    ("source", "target", "refusal"),
    [
        ("P1.OUT", "P2.IN", errors.InputTaken),
        ("P1.IN", "P2.OUT", errors.WrongDirection),
        ("P1.OUT", "P1.IN", errors.LoopsBack),
        ("P1.OUT", "P9.IN", errors.JackUnknown),
        ("P1.OUT", "P2.RETURN", errors.JackUnknown),
    ],
)
def test_links_that_cannot_be(source: str, target: str, refusal: type[Exception]) -> None:
    board = make_board("P1", "P2")
    with pytest.raises(refusal):
        connect_jacks(board, 0, source, target)


def test_connecting_writes_the_ends_as_the_plan_spells_them() -> None:
    board = make_board("P1", "P2")
    remove_link(board, 0, Link.objects.get(ref="W2"))
    connect_jacks(board, 1, "p1.out", "p2.in", ref="X1")
    assert links(board)["X1"] == "P1.OUT P2.IN"


def test_moving_a_pedal_earlier() -> None:
    board = make_board("P1", "P2", "P3")
    move_in_line(board, 0, 0, "P3", 1)
    assert line(board) == "P3 P1 P2"


def test_moving_keeps_the_link_between_neighbours_and_the_leads() -> None:
    board = make_board("P1", "P2", "P3")
    kept = Link.objects.get(ref="W2").pk
    move_in_line(board, 0, 0, "P3", 1)
    assert links(board) == {
        "W1": "G1.OUT P3.IN",
        "W2": "P1.OUT P2.IN",
        "W3": "P3.OUT P1.IN",
        "W4": "P2.OUT A1.IN",
    }
    assert Link.objects.get(ref="W2").pk == kept


@pytest.mark.parametrize("position", [0, 4])
def test_a_place_outside_the_line_is_refused(position: int) -> None:
    with pytest.raises(errors.NoSuchPosition, match="1 to 3"):
        move_in_line(make_board("P1", "P2", "P3"), 0, 0, "P1", position)


def test_wiring_another_sequence_whole() -> None:
    board = make_board("P1", "P2", "P3", "P4")
    wire_line(board, 0, 0, ["P4", "P3", "P2", "P1"])
    assert line(board) == "P4 P3 P2 P1"


def test_leaving_a_pedal_out_joins_its_neighbours() -> None:
    board = make_board("P1", "P2", "P3")
    wire_line(board, 0, 0, ["P1", "P3"])
    assert sorted(links(board).values()) == ["G1.OUT P1.IN", "P1.OUT P3.IN", "P3.OUT A1.IN"]


def test_an_unwired_board_gets_its_first_line() -> None:
    board = make_board("P1", "P2")
    Link.objects.all().delete()
    wire_line(board, 0, 0, ["P2", "P1"])
    assert list(links(board).values()) == ["G1.OUT P2.IN", "P2.OUT P1.IN", "P1.OUT A1.IN"]


def test_a_pedal_twice_in_a_line_is_refused() -> None:
    with pytest.raises(errors.PedalTwice, match="p1"):
        wire_line(make_board("P1", "P2"), 0, 0, ["P1", "p1"])


def test_feeding_and_pulling() -> None:
    board = make_board("P1", "P2")
    feed_pedal(board, 0, ["P2.DC"], FeedColumns([Chosen("S1.1", 9000)], adapters=["reverser"]))
    assert load_plan(board).feeds[1].adapters == ("reverser",)
    unfeed(board, 1, "P2.DC")
    assert [feed.jacks for feed in load_plan(board).feeds] == [("P1.DC",)]


@pytest.mark.parametrize(
    ("jack", "chosen", "refusal"),
    [
        ("P1.DC", Chosen("S1.1"), errors.JackFedTwice),
        ("P2.DC", Chosen("S1.7"), errors.OutletUnknown),
        ("P2.DC", Chosen("S1.1", 12000), errors.SettingNotOffered),
        ("P2.AC", Chosen("S1.1"), errors.JackUnknown),
    ],
)
def test_feeds_that_cannot_be(jack: str, chosen: Chosen, refusal: type[Exception]) -> None:
    board = make_board("P1", "P2")
    with pytest.raises(refusal):
        feed_pedal(board, 0, [jack], FeedColumns([chosen]))


def test_one_outlet_keeps_one_setting() -> None:
    board = make_board("P1", "P2")
    feed_jack(board, 0, "P1.DC", FeedColumns([Chosen("S1.2", 9000)]))
    with pytest.raises(errors.TwoSettings):
        feed_pedal(board, 1, ["P2.DC"], FeedColumns([Chosen("S1.2", 12000)]))


def test_a_copy_has_the_same_wiring_but_no_units() -> None:
    plan = b.wired_board(b.draws(b.pedal("P1", name="Low Ember", unit="KE-1"), measured=19))
    board = store_plan(make_shop(), plan, name="Main")
    copy = copy_board(board, name="Spare", client=None)
    pedal = load_plan(copy).pedals[0]
    assert (pedal.unit, pedal.power[0].measured, links(copy)) == (None, None, links(board))
