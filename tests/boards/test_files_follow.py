"""Photos follow the thing they are of, whatever it is called: renamed, undone, restored, put back."""

from importlib import import_module

import pytest
from django.db import connection
from django.urls import reverse

from boardshop.boards.access import get_board_for
from boardshop.boards.held_files import BoardHolder, photos_by_ref
from boardshop.boards.models import Board, BoardFile, Placement, SupplyPlacement
from boardshop.boards.services.history import redo_change, undo_change
from boardshop.boards.services.links import change_link, ends_of
from boardshop.boards.services.pedals import add_pedal, change_pedal, remove_pedal
from boardshop.boards.services.revisions import release_revision, restore_revision
from boardshop.boards.services.trash import restore_pedal
from boardshop.boards.views.rows import get_link, get_pedal
from boardshop.files.models import Attachment
from boardshop.files.store import receive_files
from tests.board_factories import make_board
from tests.factories import Cast
from tests.files.pictures import picture, sent

pytestmark = pytest.mark.django_db
WIDTHS = {"P1": 61, "P2": 62, "P3": 63, "W1": 64, "S1": 65, "": 66}
"""Of the picture of each thing, so that it is known again."""


@pytest.fixture
def board(cast: Cast) -> Board:
    board = get_board_for(cast.editor, make_board(cast.shop, 3).code)
    for ref, width in WIDTHS.items():
        receive_files(BoardHolder(board, ref), cast.shop, cast.editor, [sent(picture((width, 40)))], "knobs")
    return board


def now(board: Board) -> int:
    return Board.objects.get(pk=board.pk).edit_number


def rename(board: Board, ref: str, to: str) -> None:
    pedal = get_pedal(board, ref)
    change_pedal(board, now(board), pedal, pedal.model, pedal.unit, [], ref=to)


def whose(board: Board, revision: object = None) -> dict[str, str]:
    """By the ref that a thing bears, the one that it bore when its picture came."""
    names = {width: ref for ref, width in WIDTHS.items()}
    found = photos_by_ref(board, revision)  # type: ignore[arg-type]
    return {ref.upper(): names[one.width or 0] for ref, photos in found.items() for one in photos}


AS_THEY_CAME = {ref: ref for ref in WIDTHS if ref}


def test_a_new_name_takes_the_photo_along_and_undo_and_redo_do_too(board: Board) -> None:
    rename(board, "P1", "FZ")
    renamed = {"FZ": "P1", "P2": "P2", "P3": "P3", "W1": "W1", "S1": "S1"}
    assert whose(board) == renamed
    undo_change(board, now(board))
    assert whose(board) == AS_THEY_CAME
    redo_change(board, now(board))
    assert whose(board) == renamed


def test_so_does_a_link(board: Board) -> None:
    link = get_link(board, "W1")
    change_link(board, now(board), link, *ends_of(link)[:2], ref="W77")
    assert whose(board)["W77"] == "W1"


def test_two_that_swap_their_names_keep_their_own(board: Board) -> None:
    revision = release_revision(board, now(board), reason="as agreed")
    for ref, to in (("P1", "X"), ("P2", "P1"), ("X", "P2")):
        rename(board, ref, to)
    assert whose(board) == AS_THEY_CAME | {"P1": "P2", "P2": "P1"}
    # What is on stage still calls them by their former names.
    assert whose(board, revision) == AS_THEY_CAME
    restore_revision(board, now(board), revision)
    assert whose(board) == AS_THEY_CAME


def test_the_stage_shows_each_photo_under_the_name_that_was_released(cast: Cast, board: Board) -> None:
    release_revision(board, now(board), reason="as agreed")
    rename(board, "P1", "FZ")
    photo = Attachment.objects.get(width=WIDTHS["P1"])
    small, address = reverse("show-thumbnail", args=[photo.key]), reverse("stage-board", args=[board.code])
    browser = cast.browser("viewer")
    for query, ref in (("", "P1"), ("?working=1", "FZ")):
        page = browser.get(address + query).text
        assert small in page.partition(f'id="{ref}"')[2].partition("</details>")[0]


def test_who_gets_a_free_name_does_not_get_the_photos_of_the_former(cast: Cast, board: Board) -> None:
    pedal = get_pedal(board, "P2")
    model = pedal.model
    remove_pedal(board, now(board), pedal)
    change = board.changes.latest("number")
    assert add_pedal(board, now(board), model).ref == "P2"
    assert "P2" not in whose(board)
    page = cast.browser("editor").get(reverse("board", args=[board.code]))
    assert [one.width for one in page.context["held"].gone] == [WIDTHS["P2"]]
    rename(board, "P2", "P9")
    restore_pedal(board, change)
    assert whose(board) == AS_THEY_CAME


def test_the_boards_own_stay_its_own(cast: Cast, board: Board) -> None:
    rename(board, "P1", "FZ")
    held = cast.browser("editor").get(reverse("board", args=[board.code])).context["held"]
    assert [one.width for one in held.own.kept] == [WIDTHS[""]]
    assert sorted(held.counts) == [(ref, 1) for ref in ("FZ", "P2", "P3", "S1", "W1")]
    assert held.gone == []


def test_files_from_before_find_what_they_are_of(board: Board) -> None:
    BoardFile.objects.update(item_key=None)
    BoardFile.objects.filter(ref="P1").update(ref="p1")
    migration = import_module("boardshop.boards.migrations.0011_files_of_items_found")
    with connection.cursor() as cursor:
        cursor.execute(migration.FIND)
    assert whose(board) == AS_THEY_CAME
    assert BoardFile.objects.get(ref="").item_key is None


def test_a_supply_has_a_page_of_its_files_with_the_form(cast: Cast, board: Board) -> None:
    supply = SupplyPlacement.objects.get(board=board)
    address = reverse("supply-files", args=[board.code, supply.ref])
    assert address in cast.browser("viewer").get(reverse("power", args=[board.code])).text
    page = cast.browser("editor").get(address)
    assert [one.width for one in page.context["files"].kept] == [WIDTHS["S1"]]
    add = reverse("add-board-files", args=[board.code])
    assert f'action="{add}#files"' in page.text
    assert 'name="ref" value="S1"' in page.text
    assert cast.browser("viewer").get(address).status_code == 200
    assert add not in cast.browser("viewer").get(address).text


def test_supply_files_knows_no_pedal_no_stranger_and_no_post(cast: Cast, board: Board) -> None:
    address = reverse("supply-files", args=[board.code, "S1"])
    assert cast.browser("stranger").get(address).status_code == 404
    assert cast.browser("editor").get(reverse("supply-files", args=[board.code, "P1"])).status_code == 404
    assert cast.browser("editor").post(address).status_code == 405
    assert Placement.objects.filter(board=board).count() == 3
