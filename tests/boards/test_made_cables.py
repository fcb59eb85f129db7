"""Made cables on links: put on, taken off, and what becomes of them when rows are put back."""

import json

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from boardshop.bench.services.cable_tests import report_fault, scrap_cable
from boardshop.boards.access import get_board_for
from boardshop.boards.cable_errors import (
    CableDoesNotFit,
    CableElsewhere,
    CableNotFit,
    CableTooShort,
    MadeOfCable,
)
from boardshop.boards.errors import NotOfThisShop, StaleEdit
from boardshop.boards.models import Board, CableStay, Change, Link
from boardshop.boards.services.boards import copy_board, import_board
from boardshop.boards.services.history import undo_change
from boardshop.boards.services.links import change_link, ends_of, remove_link
from boardshop.boards.services.made_cables import link_of, put_cable, take_cable_off
from boardshop.boards.services.revisions import plan_of as released_plan
from boardshop.boards.services.revisions import release_revision, restore_revision
from boardshop.boards.services.trash import trash_board
from boardshop.boards.services.variants import add_variant, use_variant
from boardshop.core.boardfile import dump_plan
from boardshop.crew.constraints import constraint_of
from boardshop.gear.errors import GearInUse
from boardshop.gear.models import MadeCable, PlugType
from boardshop.gear.services import delete_gear
from tests.board_factories import make_board, plan_of
from tests.cable_factories import BAD, DAY, GOOD, fresh, link_row, make_cable, make_tested, put, read
from tests.factories import Cast, make_plug_type

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 3)


def own(board: Board, cast: Cast) -> Board:
    return get_board_for(cast.editor, board.code)


def planned(board: Board, ref: str) -> tuple[int | None, str | None, str | None]:
    link = next(link for link in plan_of(board).links if link.ref == ref)
    return link.made, link.made_id, link.made_test


def last_words(board: Board) -> str:
    return " ".join(Change.objects.filter(board=board).order_by("-number")[0].sentences)


def test_a_cable_gives_its_link_length_id_and_test(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    assert planned(board, "W2") == (700, cable.code, "passed")
    assert f"W2 is made cable {cable.code}, 700 mm." in last_words(board)
    stay = CableStay.objects.get(cable=cable)
    assert (stay.ref, stay.chain_place, stay.until, stay.put_by) == ("W2", "between", None, str(cast.editor))


def test_an_untested_one_is_on_the_board_as_not_tested(board: Board, cast: Cast) -> None:
    cable = make_cable(cast.shop)
    put(cable, board, "W2", cast.editor)
    assert planned(board, "W2") == (700, cable.code, None)


def test_taken_off_it_is_spare_and_the_link_is_to_be_made(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    mine = own(board, cast)
    take_cable_off(mine, mine.edit_number, link_row(board, "W2"), cable)
    assert planned(board, "W2") == (None, None, None)
    assert fresh(cable).place == "spare"
    assert CableStay.objects.get(cable=cable).until is not None


def test_a_cable_is_on_one_link_only(board: Board, cast: Cast) -> None:
    cable, other = make_tested(cast.shop, cast.editor), make_board(cast.shop, 2, name="Second")
    put(cable, board, "W2", cast.editor)
    for there, ref in ((board, "W3"), (other, "W2")):
        with pytest.raises(CableElsewhere, match="W2 of board Nightjar main"):
            put(cable, there, ref, cast.editor)


def test_one_that_failed_or_was_scrapped_cannot_go_on(board: Board, cast: Cast) -> None:
    failed, scrapped = make_cable(cast.shop), make_tested(cast.shop, cast.editor)
    read(failed, BAD, cast.editor)
    scrap_cable(scrapped, on=DAY, by=cast.editor, why="core broken")
    for cable in (failed, scrapped):
        with pytest.raises(CableNotFit, match=cable.code):
            put(cable, board, "W2", cast.editor)


@pytest.mark.parametrize("columns", [{"verdict": "failed"}, {"scrapped_on": DAY}])
def test_postgres_lets_no_failed_cable_onto_a_link(
    board: Board, cast: Cast, columns: dict[str, object]
) -> None:
    cable = make_tested(cast.shop, cast.editor)
    MadeCable.objects.filter(pk=cable.pk).update(**columns)
    with pytest.raises(IntegrityError) as refused, transaction.atomic():
        Link.objects.filter(board=board, ref="W2").update(made_cable=cable, made=700)
    assert constraint_of(refused.value) == "made_cable_is_fit"


@pytest.mark.parametrize("columns", [{"verdict": "failed"}, {"scrapped_on": DAY}])
def test_postgres_lets_no_cable_on_a_link_fail(board: Board, cast: Cast, columns: dict[str, object]) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    with pytest.raises(IntegrityError) as refused, transaction.atomic():
        MadeCable.objects.filter(pk=cable.pk).update(**columns)
    assert constraint_of(refused.value) == "made_cable_is_fit"


def test_postgres_lets_a_cable_be_on_one_link_only(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    with pytest.raises(IntegrityError) as refused, transaction.atomic():
        Link.objects.filter(board=board, ref="W3").update(made_cable=cable, made=700)
    assert constraint_of(refused.value) == "made_cable_on_one_link"


def test_one_that_seems_too_short_goes_on_only_when_told_so(cast: Cast) -> None:
    board, short = make_board(cast.shop, 2), make_tested(cast.shop, cast.editor, 25)
    with pytest.raises(CableTooShort, match="does not reach"):
        put(short, board, "W2", cast.editor)
    put(short, board, "W2", cast.editor, anyway=True)
    assert planned(board, "W2")[0] == 25


def test_one_of_another_kind_or_plug_does_not_fit(board: Board, cast: Cast) -> None:
    make_plug_type(cast.shop, name="Five pole", connector="DIN 5")
    with pytest.raises(CableDoesNotFit, match="made for midi"):
        put(make_cable(cast.shop, kind="midi"), board, "W2", cast.editor)
    with pytest.raises(CableDoesNotFit, match="Five pole"):
        put(make_cable(cast.shop, plug_b="Five pole"), board, "W2", cast.editor)


def test_one_of_another_shop_is_refused(board: Board, cast: Cast) -> None:
    foreign = make_cable(cast.stranger.memberships.get().shop)
    with pytest.raises(NotOfThisShop):
        put(foreign, board, "W2", cast.editor)


def test_what_the_cable_gives_is_not_changed_under_it(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    other = make_plug_type(cast.shop, name="Straight")
    for columns in ({"made": 650}, {"plug_to": other}, {"length": 700}):
        mine, link = own(board, cast), link_row(board, "W2")
        with pytest.raises(MadeOfCable, match=cable.code):
            change_link(mine, mine.edit_number, link, *ends_of(link), **columns)
    mine, link = own(board, cast), link_row(board, "W2")
    change_link(mine, mine.edit_number, link, *ends_of(link), route="under", made=700)
    assert planned(board, "W2")[1] == cable.code


def test_a_late_edit_puts_nothing_on(board: Board, cast: Cast) -> None:
    mine = own(board, cast)
    cable = make_tested(cast.shop, cast.editor)
    put(make_tested(cast.shop, cast.editor), board, "W3", cast.editor)
    with pytest.raises(StaleEdit):
        put_cable(mine, mine.edit_number, link_row(board, "W2"), cable)
    assert link_of(cable) is None


def test_a_removed_link_frees_its_cable_and_undo_brings_it_back(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    mine = own(board, cast)
    remove_link(mine, mine.edit_number, link_row(board, "W2"))
    assert link_of(cable) is None
    undo_change(mine, mine.edit_number)
    assert planned(board, "W2") == (700, cable.code, "passed")
    assert CableStay.objects.filter(cable=cable, until=None).count() == 1
    assert CableStay.objects.filter(cable=cable).count() == 2


def test_undo_leaves_out_a_cable_that_is_elsewhere_by_now(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    mine = own(board, cast)
    remove_link(mine, mine.edit_number, link_row(board, "W2"))
    put(cable, make_board(cast.shop, 2, name="Second"), "W2", cast.editor)
    undo_change(mine, mine.edit_number)
    assert planned(board, "W2") == (None, None, None)
    assert f"W2 is left without its made cable: {cable.code} is W2 of board Second now." in last_words(board)


def test_undo_leaves_out_a_cable_that_failed_meanwhile(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    mine = own(board, cast)
    remove_link(mine, mine.edit_number, link_row(board, "W2"))
    read(cable, BAD, cast.editor)
    undo_change(mine, mine.edit_number)
    assert planned(board, "W2")[1] is None
    assert f"{cable.code} failed its test" in last_words(board)


def test_undo_of_coming_off_by_a_failed_test_leaves_it_off(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    read(cable, BAD, cast.editor)
    mine = own(board, cast)
    undo_change(mine, mine.edit_number)
    assert planned(board, "W2") == (None, None, None)
    assert "left without its made cable" in last_words(board)


def test_a_restored_revision_takes_only_cables_that_are_free_and_whole(board: Board, cast: Cast) -> None:
    kept, gone = make_tested(cast.shop, cast.editor), make_tested(cast.shop, cast.editor)
    put(kept, board, "W2", cast.editor)
    put(gone, board, "W3", cast.editor)
    mine = own(board, cast)
    revision = release_revision(mine, mine.edit_number, reason="for the test")
    assert [link.made_id for link in released_plan(revision).links if link.made_id] == [kept.code, gone.code]
    report_fault(gone, on=DAY, by=cast.editor, symptom="crackles")
    take_off(board, "W2", kept, cast)
    mine = own(board, cast)
    restore_revision(mine, mine.edit_number, revision)
    assert planned(board, "W2")[1] == kept.code
    assert planned(board, "W3") == (None, None, None)
    assert "Revision 1 was restored." in last_words(board)
    assert f"W3 is left without its made cable: {gone.code} failed its test." in last_words(board)


def take_off(board: Board, ref: str, cable: MadeCable, cast: Cast) -> None:
    mine = own(board, cast)
    take_cable_off(mine, mine.edit_number, link_row(board, ref), cable)


def test_a_variant_has_its_cables_only_while_it_is_current(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    mine = own(board, cast)
    add_variant(mine, mine.edit_number, "Second")
    take_off(board, "W2", cable, cast)
    put(cable, board, "W3", cast.editor)
    mine = own(board, cast)
    use_variant(mine, mine.edit_number, mine.variants.get(name="As it was"))
    assert (planned(board, "W2")[1], planned(board, "W3")[1]) == (cable.code, None)
    put_elsewhere = make_board(cast.shop, 2, name="Third")
    take_off(board, "W2", cable, cast)
    put(cable, put_elsewhere, "W2", cast.editor)
    mine = own(board, cast)
    use_variant(mine, mine.edit_number, mine.variants.get(name="Second"))
    assert planned(board, "W3") == (None, None, None)
    assert "left without its made cable" in last_words(board)


def test_a_board_in_the_trash_frees_its_cables_and_takes_back_what_is_free(board: Board, cast: Cast) -> None:
    one, other = make_tested(cast.shop, cast.editor), make_tested(cast.shop, cast.editor)
    put(one, board, "W2", cast.editor)
    put(other, board, "W3", cast.editor)
    mine = own(board, cast)
    trash_board(mine, mine.edit_number)
    assert link_of(one) is None
    put(other, make_board(cast.shop, 2, name="Second"), "W2", cast.editor)
    answer = cast.browser("editor").post(reverse("restore-board", args=[board.code]), follow=True)
    assert "is back without a made cable that it had." in answer.text
    assert "with everything on it" not in answer.text
    assert (planned(board, "W2")[1], planned(board, "W3")[1]) == (one.code, None)
    assert f"{other.code} is W2 of board Second now" in last_words(board)


def test_a_copy_is_to_be_made_anew(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    copy = copy_board(own(board, cast), name="Copy", client=None)
    assert planned(copy, "W2") == (None, None, None)
    assert planned(board, "W2")[1] == cable.code


def imported(board: Board, cast: Cast, **values: object) -> Board:
    document = dump_plan(plan_of(board))
    document["links"][1] |= values
    return import_board(cast.shop, json.dumps(document).encode(), name="Brought in", by=cast.editor)


def test_a_file_takes_a_cable_that_is_free(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    taken = imported(board, cast, made=700, made_id=cable.code, made_test="passed")
    assert planned(taken, "W2") == (700, cable.code, "passed")
    assert CableStay.objects.get(cable=cable, until=None).board == taken


def test_a_file_keeps_only_the_length_of_a_cable_that_is_not_free(board: Board, cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W3", cast.editor)
    left = imported(board, cast, made=700, made_id=cable.code, made_test="passed")
    assert planned(left, "W2") == (700, None, None)
    assert f"cable {cable.code} is not free and whole here" in last_words(left)


@pytest.mark.parametrize("made", [690, 710])
def test_a_file_does_not_take_a_cable_of_another_length(board: Board, cast: Cast, made: int) -> None:
    cable = make_tested(cast.shop, cast.editor)
    assert planned(imported(board, cast, made=made, made_id=cable.code), "W2") == (made, None, None)


def test_a_link_whose_cable_failed_in_the_file_is_to_be_made_anew(board: Board, cast: Cast) -> None:
    left = imported(board, cast, made=700, made_id="7K3M", made_test="failed")
    assert planned(left, "W2") == (None, None, None)
    assert "W2 is to be made anew: its cable failed its test." in last_words(left)


def test_a_plug_that_a_cable_in_hand_has_stays_in_the_shop(board: Board, cast: Cast) -> None:
    plug = make_plug_type(cast.shop, name="Odd one")
    cable = make_cable(cast.shop, plug_a="Odd one")
    with pytest.raises(GearInUse, match=cable.code):
        delete_gear(plug)
    scrap_cable(cable, on=DAY, by=cast.editor, why="core broken")
    delete_gear(plug)
    assert not PlugType.objects.filter(name="Odd one").exists()


def test_a_test_that_is_passed_again_lets_a_cable_back_on(board: Board, cast: Cast) -> None:
    cable = make_cable(cast.shop)
    read(cable, BAD, cast.editor)
    read(cable, GOOD, cast.editor)
    put(cable, board, "W2", cast.editor)
    assert planned(board, "W2")[2] == "passed"
