"""What the edits of one scene keep besides the rest: their address names it by its key."""

from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board, Scene
from boardshop.core import plan as core
from tests.board_factories import make_board, plan_of
from tests.boards.contract import HTMX, EditContract
from tests.factories import Cast

VERSE, LEAD, OUTRO = core.Scene("verse", ("P1",)), core.Scene("lead", ("P1", "P2")), core.Scene("outro")


def key_of(board: Board, name: str) -> int:
    return Scene.objects.get(board=board, name=name).pk


class SceneContract(EditContract):
    page = "scenes"

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return make_board(cast.shop, scenes=(VERSE, LEAD, OUTRO))

    def url(self, board: Board, args: tuple[str, ...] | None = None) -> str:
        """Of its scene “lead”."""
        return reverse(self.name, args=[board.code, *(args or (str(key_of(board, "lead")),))])

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        """The board that the queries are counted on gets its scenes, more of them where it is large."""
        names = ("verse", "lead", *(f"part {n}" for n in range(pedals)))
        Scene.objects.bulk_create(Scene(board=board, name=name, position=at) for at, name in enumerate(names))
        return {}

    def names(self, board: Board) -> list[str]:
        return [scene.name for scene in plan_of(board).scenes]

    def post_when_gone(self, cast: Cast, browser: Browser, board: Board, referer: str) -> HttpResponse:
        """The form is sent after somebody else took the scene away."""
        url = self.url(board)
        remove = reverse("remove-scene", args=[board.code, key_of(board, "lead")])
        assert cast.browser("owner").post(remove, {"edit": 0}).status_code == 303
        headers = {"Referer": f"http://testserver/boards/{board.code}/{referer}"} | HTMX
        return browser.post(url, {"edit": 0, **self.typed}, headers=headers)

    def test_when_the_scene_is_gone_it_came_too_late(
        self, cast: Cast, browser: Browser, board: Board
    ) -> None:
        answer = self.post_when_gone(cast, browser, board, "scenes")
        assert answer.status_code == 409
        assert answer.context["page"] == "scenes"
        assert "not on the board any more" in answer.text
        assert str(cast.owner) in answer.text
        assert self.names(board) == ["verse", "outro"]

    def test_a_scene_of_another_board_is_not_found(self, cast: Cast, browser: Browser, board: Board) -> None:
        other = make_board(cast.shop, name="Other", scenes=(LEAD,))
        url = self.url(board, (str(key_of(other, "lead")),))
        assert browser.post(url, {"edit": 0, **self.typed}).status_code == 404
        assert plan_of(other).scenes == (LEAD,)
