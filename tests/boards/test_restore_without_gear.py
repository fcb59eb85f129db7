"""A state comes back only with gear that is there and free; else a sentence says what is in the way."""

import pytest

from boardshop.boards.access import get_board_for
from boardshop.boards.errors import GearGone, GearInTrash, UnitElsewhere
from boardshop.boards.history.state import read_state
from boardshop.boards.models import Board, Placement, Revision
from boardshop.boards.services.history import undo_change
from boardshop.boards.services.pedals import add_pedal, remove_pedal
from boardshop.boards.services.revisions import release_revision, restore_revision
from boardshop.boards.services.trash import restore_board, trash_board
from boardshop.boards.services.variants import add_variant, use_variant
from boardshop.boards.views.rows import get_pedal
from boardshop.crew.trash import put_in_trash
from boardshop.gear.models import PedalModel
from tests.board_factories import make_board
from tests.factories import Cast, make_unit

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return get_board_for(cast.editor, make_board(cast.shop, 3).code)


def number(board: Board) -> int:
    return Board.objects.get(pk=board.pk).edit_number


def without_p2(board: Board) -> tuple[Revision, PedalModel]:
    """A revision with P2, which the working copy has no more."""
    revision = release_revision(board, number(board), reason="as agreed")
    pedal = get_pedal(board, "P2")
    remove_pedal(board, number(board), pedal)
    return revision, pedal.model


def test_gear_in_the_trash_is_named_with_the_way_out(cast: Cast, board: Board) -> None:
    revision, model = without_p2(board)
    put_in_trash(model, cast.editor)
    before = read_state(board)
    with pytest.raises(GearInTrash, match="Pedal 2 lies in the trash"):
        restore_revision(board, number(board), revision)
    with pytest.raises(GearInTrash):
        undo_change(board, number(board))
    assert read_state(board) == before


def test_gear_that_is_gone_is_told_by_its_ref_on_the_page(cast: Cast, board: Board) -> None:
    revision, model = without_p2(board)
    model.delete()
    before = read_state(board)
    with pytest.raises(GearGone, match="P2"):
        restore_revision(board, number(board), revision)
    answer = cast.browser("editor").post(f"/boards/{board.code}/revisions/1/restore", {"edit": number(board)})
    assert (answer.status_code, "is no longer in the shop" in answer.text) == (422, True)
    assert read_state(board) == before


def test_a_variant_whose_gear_is_gone_says_so_and_does_not_become_current(cast: Cast, board: Board) -> None:
    add_variant(board, number(board), "Without P2")
    pedal = get_pedal(board, "P2")
    remove_pedal(board, number(board), pedal)
    pedal.model.delete()
    first = board.variants.get(name="As it was")
    with pytest.raises(GearGone):
        use_variant(board, number(board), first)
    page = cast.browser("viewer").get(f"/boards/{board.code}/variants")
    assert "cannot be computed: gear is gone" in page.text


def test_a_unit_that_stands_elsewhere_now_is_named_with_its_place(cast: Cast, board: Board) -> None:
    pedal = get_pedal(board, "P2")
    unit = make_unit(cast.shop, pedal=pedal.model, serial="TT-7")
    Placement.objects.filter(pk=pedal.pk).update(unit=unit)
    trash_board(board, number(board))
    other = make_board(cast.shop, 1, name="Fly rig")
    add_pedal(other, number(other), pedal.model, unit)
    trashed = Board.with_trash.get(pk=board.pk)
    with pytest.raises(UnitElsewhere, match="Unit TT-7 is already P2 of board Fly rig"):
        restore_board(trashed)
    assert Board.with_trash.get(pk=board.pk).trashed_at is not None
