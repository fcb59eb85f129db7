from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board, Change, Scene
from boardshop.boards.services.history import redo_change, undo_change
from boardshop.boards.services.scenes import move_scene
from tests.board_factories import make_board
from tests.boards.contract import RefusesWrongInput
from tests.boards.scene_contract import LEAD, OUTRO, VERSE, SceneContract, key_of
from tests.factories import Cast


class TestMoveScene(SceneContract, RefusesWrongInput):
    name = "move-scene"
    typed: ClassVar = {"way": "earlier"}
    wrong: ClassVar = {"way": "up"}
    said = "up is not one of the available choices"

    @pytest.mark.parametrize(
        ("way", "names"), [("earlier", ["lead", "verse", "outro"]), ("later", ["verse", "outro", "lead"])]
    )
    def test_it_changes_places_with_its_neighbour(
        self, browser: Browser, board: Board, way: str, names: list[str]
    ) -> None:
        self.post(browser, board, {"way": way})
        assert self.names(board) == names

    @pytest.mark.parametrize(("name", "way"), [("verse", "earlier"), ("outro", "later")])
    def test_at_the_end_it_stays(self, browser: Browser, board: Board, name: str, way: str) -> None:
        url = self.url(board, (str(key_of(board, name)),))
        assert browser.post(url, {"edit": 0, "way": way}).status_code == 303
        assert self.names(board) == ["verse", "lead", "outro"]
        assert Board.objects.get(pk=board.pk).edit_number == 0

    @pytest.mark.parametrize("positions", [(0, 0, 0), (0, 5, 9)])
    def test_gaps_and_shared_places_do_not_hinder(
        self, browser: Browser, board: Board, positions: tuple[int, ...]
    ) -> None:
        for scene, position in zip(board.scenes.all(), positions, strict=True):
            Scene.objects.filter(pk=scene.pk).update(position=position)
        self.post(browser, board)
        assert self.names(board) == ["lead", "verse", "outro"]


@pytest.mark.django_db
def test_it_is_told_undone_and_redone(cast: Cast) -> None:
    board = get_board_for(cast.editor, make_board(cast.shop, scenes=(VERSE, LEAD, OUTRO)).code)
    move_scene(board, 0, Scene.objects.get(pk=key_of(board, "lead")), -1)
    undo_change(board, 1)
    assert [scene.name for scene in board.scenes.all()] == ["verse", "lead", "outro"]
    redo_change(board, 2)
    assert [scene.name for scene in board.scenes.all()] == ["lead", "verse", "outro"]
    told = Change.objects.filter(board=board).order_by("number").values_list("sentences", flat=True)
    assert list(told)[-3:] == [["Scene lead was moved before verse."]] * 3
