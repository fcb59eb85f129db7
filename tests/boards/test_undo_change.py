"""Undo and redo: the rows themselves, and what others did meanwhile."""

from random import Random

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.access import get_board_for
from boardshop.boards.errors import ChangedSince, NothingToRedo, NothingToUndo
from boardshop.boards.history.state import read_state
from boardshop.boards.models import Board, Change, Link, Placement
from boardshop.boards.services.history import find_redoable, redo_change, undo_change
from boardshop.boards.services.links import remove_link
from boardshop.boards.services.pedals import add_pedal, place_pedal, remove_pedal
from boardshop.boards.services.revisions import release_revision, restore_revision
from boardshop.core.boardfile import dump_plan
from tests.board_factories import make_board, plan_of
from tests.factories import Cast, make_pedal_model, make_person

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return get_board_for(cast.editor, make_board(cast.shop, 3).code)


def pedal(board: Board, ref: str) -> Placement:
    return Placement.objects.get(board=board, ref=ref)


def now(board: Board) -> int:
    return Board.objects.get(pk=board.pk).edit_number


def move(board: Board, ref: str, x: int) -> None:
    place_pedal(board, now(board), pedal(board, ref), x, 200, 0)


def moved_by(change: Change, *, is_undone: bool) -> tuple[str, int, int]:
    """The ref of the one pedal that it moved, where that must have stood and where it must stand now."""
    ((key, (old, new)),) = change.patch["boards_placement"].items()
    ends = (new["x"], old["x"]) if is_undone else (old["x"], new["x"])
    return Placement.objects.get(pk=key).ref, *ends


def undo(board: Board) -> Change:
    return undo_change(board, now(board))


def redo(board: Board) -> Change:
    return redo_change(board, now(board))


def test_a_pedal_goes_back_and_forth(board: Board) -> None:
    before = pedal(board, "P2").x
    move(board, "P2", 300)
    undo(board)
    assert pedal(board, "P2").x == before
    redo(board)
    assert pedal(board, "P2").x == 300


def test_a_removed_pedal_comes_back_with_its_links_feeds_and_keys(board: Board) -> None:
    before, file = read_state(board), dump_plan(plan_of(board))
    remove_pedal(board, now(board), pedal(board, "P1"))
    assert len(plan_of(board).pedals) == 2
    undo(board)
    assert read_state(board) == before
    assert dump_plan(plan_of(board)) == file


def test_several_steps_back_and_forth_end_where_they_began(board: Board) -> None:
    states = [read_state(board)]
    for x in (300, 400, 500):
        move(board, "P3", x)
        states.append(read_state(board))
    for state in states[-2::-1]:
        undo(board)
        assert read_state(board) == state
    with pytest.raises(NothingToUndo):
        undo(board)
    for state in states[1:]:
        redo(board)
        assert read_state(board) == state
    with pytest.raises(NothingToRedo):
        redo(board)


def test_a_new_edit_ends_the_way_forward(board: Board) -> None:
    move(board, "P2", 300)
    undo(board)
    move(board, "P3", 400)
    with pytest.raises(NothingToRedo):
        redo(board)


def test_only_ones_own_changes_go_back(cast: Cast, board: Board) -> None:
    move(board, "P2", 300)
    others = get_board_for(cast.owner, board.code)
    with pytest.raises(NothingToUndo):
        undo(others)
    move(others, "P3", 400)
    undo(board)
    assert pedal(board, "P3").x == 400
    assert pedal(board, "P2").x != 300


def test_what_somebody_changed_since_is_told_and_not_overwritten(cast: Cast, board: Board) -> None:
    move(board, "P2", 300)
    move(get_board_for(cast.owner, board.code), "P2", 350)
    with pytest.raises(ChangedSince, match=cast.owner.username):
        undo(board)
    assert pedal(board, "P2").x == 350
    assert now(board) == 2


def test_a_pedal_that_somebody_wired_is_not_taken_away(cast: Cast, board: Board) -> None:
    model = make_pedal_model(cast.shop, jacks="IN:in OUT:out")
    added = add_pedal(board, now(board), model)
    others = get_board_for(cast.owner, board.code)
    link = Link.objects.get(board=board, ref="W2")
    Link.objects.filter(pk=link.pk).update(to_item=added, to_jack=model.jacks.get(name="IN"))
    with pytest.raises(ChangedSince):
        undo(board)
    assert Placement.objects.filter(pk=added.pk).exists()
    remove_link(others, now(board), link)
    undo(board)
    assert not Placement.objects.filter(pk=added.pk).exists()


def test_somebody_who_did_nothing_has_nothing_to_undo(cast: Cast, board: Board) -> None:
    move(board, "P2", 300)
    with pytest.raises(NothingToUndo):
        undo(get_board_for(make_person(cast.shop, "editor"), board.code))


def test_the_button_on_the_page_says_what_it_takes_back(cast: Cast, board: Board) -> None:
    browser: Browser = cast.browser("editor")
    move(board, "P2", 300)
    page = browser.get(f"/boards/{board.code}/layout")
    assert 'action="/boards/' in page.text
    assert "undo-change" not in page.text
    answer = browser.post(f"/boards/{board.code}/undo", {"edit": now(board), "page": "layout"})
    assert (answer.status_code, answer.url) == (303, f"/boards/{board.code}/layout")
    assert pedal(board, "P2").x != 300


@pytest.mark.parametrize("name", ["board", "order", "power", "changes", "revisions", "variants"])
def test_it_leads_back_to_the_page_on_which_it_was_pressed(cast: Cast, board: Board, name: str) -> None:
    move(board, "P2", 300)
    typed = {"edit": now(board), "page": name}
    answer = cast.browser("editor").post(f"/boards/{board.code}/undo", typed)
    assert (answer.status_code, answer.url) == (303, reverse(name, args=[board.code]))


def test_a_restored_revision_is_told_as_such(cast: Cast, board: Board) -> None:
    revision = release_revision(board, now(board), reason="as agreed")
    move(board, "P2", 300)
    restore_revision(board, now(board), revision)
    page = cast.browser("editor").get(f"/boards/{board.code}/revisions").text
    assert "Revision 1 was restored." in page


def theirs(cast: Cast, board: Board) -> Board:
    return get_board_for(cast.owner, board.code)


def test_a_refusal_names_the_edit_in_the_way_and_who_made_it(cast: Cast, board: Board) -> None:
    move(board, "P2", 300)
    move(theirs(cast, board), "P2", 350)
    with pytest.raises(ChangedSince) as refusal:
        undo(board)
    said = str(refusal.value)
    assert f"{cast.owner.username} changed the same in edit 2" in said
    assert "x 350 mm" in said
    assert "your edit 1" in said


def test_the_next_older_one_goes_back_past_the_one_that_is_held(cast: Cast, board: Board) -> None:
    first = pedal(board, "P1").x
    move(board, "P1", 310)
    move(board, "P2", 320)
    move(theirs(cast, board), "P2", 350)
    with pytest.raises(ChangedSince):
        undo(board)
    assert undo_change(board, now(board), past=2).number == 1
    assert (pedal(board, "P1").x, pedal(board, "P2").x) == (first, 350)
    with pytest.raises(NothingToUndo):
        undo_change(board, now(board), past=1)


def test_what_was_passed_goes_back_once_nothing_stands_in_its_way(cast: Cast, board: Board) -> None:
    second = pedal(board, "P2").x
    move(board, "P1", 310)
    move(board, "P2", 320)
    move(theirs(cast, board), "P2", 350)
    undo_change(board, now(board), past=2)
    move(theirs(cast, board), "P2", 320)
    assert undo(board).number == 2
    assert pedal(board, "P2").x == second


def test_redo_makes_what_was_undone_last_though_a_later_change_stands(cast: Cast, board: Board) -> None:
    move(board, "P1", 310)
    move(board, "P2", 320)
    move(theirs(cast, board), "P2", 350)
    undo_change(board, now(board), past=2)
    assert redo(board).number == 1
    assert (pedal(board, "P1").x, pedal(board, "P2").x) == (310, 350)


def test_redo_goes_past_what_somebody_holds_too(cast: Cast, board: Board) -> None:
    for ref, x in (("P1", 310), ("P2", 320), ("P3", 330)):
        move(board, ref, x)
    for _ in range(3):
        undo(board)
    move(theirs(cast, board), "P1", 350)
    with pytest.raises(ChangedSince):
        redo(board)
    assert redo_change(board, now(board), past=1).number == 2
    assert redo_change(board, now(board), past=1).number == 3
    assert [pedal(board, ref).x for ref in ("P1", "P2", "P3")] == [350, 320, 330]
    with pytest.raises(NothingToRedo):
        redo_change(board, now(board), past=1)


def test_a_change_that_went_to_and_fro_is_passed_once(cast: Cast, board: Board) -> None:
    move(board, "P1", 310)
    move(board, "P2", 320)
    for step in (undo, redo, undo, undo):
        step(board)
    assert find_redoable(board).number == 1
    assert find_redoable(board, 1).number == 2
    assert find_redoable(board, 2) is None


def test_an_own_later_edit_of_the_same_row_is_not_overwritten_either(board: Board) -> None:
    move(board, "P2", 300)
    move(board, "P2", 400)
    with pytest.raises(ChangedSince, match="You yourself"):
        undo_change(board, now(board), past=2)
    assert pedal(board, "P2").x == 400


def test_a_new_edit_that_is_undone_comes_back_before_what_it_ended(board: Board) -> None:
    move(board, "P2", 300)
    undo(board)
    move(board, "P3", 400)
    undo(board)
    assert redo(board).number == 3
    with pytest.raises(NothingToRedo):
        redo(board)


def test_whatever_two_people_do_a_step_only_turns_around_what_still_stands(cast: Cast, board: Board) -> None:
    """Against a model kept beside it: each step finds the place its own change left, and leaves the other."""
    draw = Random(1)
    people = (board, theirs(cast, board))
    places = {ref: pedal(board, ref).x for ref in ("P1", "P2", "P3")}
    made, refused = 0, 0
    for step in range(150):
        one, ref = draw.choice(people), draw.choice(("P1", "P2", "P3"))
        turn = draw.choice((move, undo_change, redo_change))
        if turn is move:
            move(one, ref, places[ref] + 1)
            places[ref] += 1
            continue
        try:
            change = turn(one, now(board), draw.choice([None, draw.randint(1, step + 1)]))
        except (ChangedSince, NothingToUndo, NothingToRedo) as refusal:
            refused += isinstance(refusal, ChangedSince)
        else:
            made += 1
            ref, left, found = moved_by(change, is_undone=turn is undo_change)
            assert change.person == one.person
            assert places[ref] == left
            places[ref] = found
        assert {ref: pedal(board, ref).x for ref in places} == places
    assert min(made, refused) > 10


def test_the_page_offers_the_next_older_one_and_makes_it(cast: Cast, board: Board) -> None:
    browser = cast.browser("editor")
    first = pedal(board, "P1").x
    move(board, "P1", 310)
    move(board, "P2", 320)
    move(theirs(cast, board), "P2", 350)
    form = {"edit": now(board), "page": "layout"}
    answer = browser.post(f"/boards/{board.code}/undo", form)
    assert answer.status_code == 422
    assert "stands in the way of your edit 2" in answer.text
    assert "Undo the next older one of mine" in answer.text
    assert 'name="past_edit" value="2"' in answer.text
    answer = browser.post(f"/boards/{board.code}/undo", form | {"past_edit": "2"})
    assert answer.status_code == 303
    assert pedal(board, "P1").x == first
    assert "Undo the next older" not in browser.post(f"/boards/{board.code}/undo", form | {"edit": 4}).text


def test_the_list_of_changes_offers_it_too(cast: Cast, board: Board) -> None:
    for x in (300, 310):
        move(board, "P1", x)
    undo(board)
    undo(board)
    move(theirs(cast, board), "P1", 350)
    move_back = {"edit": now(board), "page": "changes"}
    answer = cast.browser("editor").post(f"/boards/{board.code}/redo", move_back)
    assert answer.status_code == 422
    assert "Redo the next one of mine" in answer.text
