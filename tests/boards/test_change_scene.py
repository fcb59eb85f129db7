from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board, Change, Placement, Scene
from boardshop.boards.services.history import redo_change, undo_change
from boardshop.boards.services.scenes import change_scene
from boardshop.core import plan as core
from tests.board_factories import make_board, plan_of
from tests.boards.contract import HTMX, RefusesWrongInput
from tests.boards.scene_contract import LEAD, OUTRO, VERSE, SceneContract, key_of
from tests.factories import Cast


class TestChangeScene(SceneContract, RefusesWrongInput):
    name = "change-scene"
    typed: ClassVar = {"name": "solo", "on-P2": "on"}
    wrong: ClassVar = {"name": "Verse"}
    said = "already has a scene of that name"

    def typed_texts(self) -> list[str]:
        return ["solo"]

    def test_its_name_and_pedals_are_kept_and_its_place_stays(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert plan_of(board).scenes == (VERSE, core.Scene("solo", ("P2",)), OUTRO)

    def test_none_ticked_is_a_scene_too(self, browser: Browser, board: Board) -> None:
        browser.post(self.url(board), {"edit": 0, "name": "lead"})
        assert plan_of(board).scenes[1] == core.Scene("lead")

    def test_the_same_again_is_no_edit(self, browser: Browser, board: Board) -> None:
        answer = browser.post(self.url(board), {"edit": 0, "name": "lead", "on-P1": "on", "on-P2": "on"})
        assert (answer.status_code, Board.objects.get(pk=board.pk).edit_number) == (303, 0)

    @pytest.mark.parametrize(
        ("name", "said"), [("", "A scene needs a name"), ("x" * 81, "at most 80 characters")]
    )
    def test_a_wrong_name_is_said_at_its_field_and_ticks_stay(
        self, browser: Browser, board: Board, name: str, said: str
    ) -> None:
        answer = self.post(browser, board, {"name": name}, headers=HTMX)
        assert answer.status_code == 422
        form = answer.context["scenes"][1].form
        assert said in form.errors["name"][0]
        assert [bool(box.value()) for box in form.boxes] == [False, True]

    def test_a_late_edit_keeps_what_others_ticked(self, cast: Cast, browser: Browser, board: Board) -> None:
        """Somebody ticks off P1 while another person only changes the name."""
        was = browser.get(f"/boards/{board.code}/scenes").context["scenes"][1].form.shown()
        cast.browser("owner").post(self.url(board), {"edit": 0, "name": "lead", "on-P2": "on"})
        typed = {"edit": 0, "was": was, "name": "solo", "on-P1": "on", "on-P2": "on"}
        answer = browser.post(self.url(board), typed, headers=HTMX)
        assert answer.status_code == 409
        again = answer.context["state"].again
        browser.post(again.address, {"edit": 1, **dict(again.fields)})
        assert plan_of(board).scenes[1] == core.Scene("solo", ("P2",))


@pytest.mark.django_db
class TestTheService:
    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return get_board_for(cast.editor, make_board(cast.shop, scenes=(VERSE, LEAD)).code)

    def change(self, board: Board, name: str, *refs: str) -> list[str]:
        """What the list of changes says of it."""
        lead = Scene.objects.get(pk=key_of(board, "lead"))
        change_scene(board, 0, lead, name, Placement.objects.filter(board=board, ref__in=refs))
        return Change.objects.get(board=board, number=1).sentences

    def test_other_pedals_are_told(self, board: Board) -> None:
        assert self.change(board, "lead", "P2") == ["Scene lead has P2 on, before P1 and P2."]

    def test_another_name_is_told(self, board: Board) -> None:
        assert self.change(board, "solo", "P1", "P2") == ["Scene lead is now called solo."]

    def test_another_way_to_write_it_is_told(self, board: Board) -> None:
        assert self.change(board, "Lead", "P1", "P2") == ["Scene lead is now written Lead."]

    def test_undo_and_redo(self, board: Board) -> None:
        self.change(board, "solo", "P2")
        undo_change(board, 1)
        assert plan_of(board).scenes == (VERSE, LEAD)
        redo_change(board, 2)
        assert plan_of(board).scenes == (VERSE, core.Scene("solo", ("P2",)))
