import pytest
from django.http import HttpResponse
from django.test import Client as Browser

from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board, Change, Placement, Scene
from boardshop.boards.services.history import redo_change, undo_change
from boardshop.boards.services.scenes import remove_scene
from tests.board_factories import make_board, plan_of
from tests.boards.scene_contract import LEAD, OUTRO, VERSE, SceneContract, key_of
from tests.factories import Cast


class TestRemoveScene(SceneContract):
    name = "remove-scene"

    def test_it_is_gone_and_its_pedals_stay(self, browser: Browser, board: Board) -> None:
        pedals = plan_of(board).pedals
        self.post(browser, board)
        assert plan_of(board).scenes == (VERSE, OUTRO)
        assert plan_of(board).pedals == pedals

    def test_sent_twice_it_is_answered_twice(self, browser: Browser, board: Board) -> None:
        url = self.url(board)
        headers = {"Referer": f"http://testserver/boards/{board.code}/scenes"}
        answers: list[HttpResponse] = [browser.post(url, {"edit": 0}, headers=headers) for _click in range(2)]
        assert [answer.status_code for answer in answers] == [303, 303]
        assert self.names(board) == ["verse", "outro"]


@pytest.mark.django_db
def test_it_is_told_undone_and_redone(cast: Cast) -> None:
    board = get_board_for(cast.editor, make_board(cast.shop, scenes=(VERSE, LEAD, OUTRO)).code)
    remove_scene(board, 0, Scene.objects.get(pk=key_of(board, "lead")))
    assert Change.objects.get(board=board, number=1).sentences == ["Scene lead was taken away."]
    undo_change(board, 1)
    assert plan_of(board).scenes == (VERSE, LEAD, OUTRO)
    redo_change(board, 2)
    assert plan_of(board).scenes == (VERSE, OUTRO)


@pytest.mark.django_db
def test_a_pedal_that_is_taken_off_leaves_its_scenes_and_comes_back_into_them(cast: Cast) -> None:
    board = get_board_for(cast.editor, make_board(cast.shop, scenes=(LEAD,)).code)
    url = f"/boards/{board.code}/pedals/P2/remove"
    cast.browser("editor").post(url, {"edit": 0})
    assert plan_of(board).scenes[0].on == ("P1",)
    undo_change(get_board_for(cast.editor, board.code), 1)
    assert plan_of(board).scenes == (LEAD,)
    assert Placement.objects.filter(board=board).count() == 2
