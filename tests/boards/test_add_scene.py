from typing import Any, ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.access import get_board_for
from boardshop.boards.errors import NotOfThisBoard, SceneNameMissing, SceneNameTaken, TooManyScenes
from boardshop.boards.models import Board, Change, Placement, Scene
from boardshop.boards.services.history import redo_change, undo_change
from boardshop.boards.services.scenes import MOST_SCENES, add_scene
from boardshop.core import plan as core
from tests.board_factories import make_board, plan_of
from tests.boards.contract import RefusesWrongInput
from tests.factories import Cast

VERSE, LEAD = core.Scene("verse", ("P1",)), core.Scene("lead", ("P1", "P2"))


class TestAddScene(RefusesWrongInput):
    name = "add-scene"
    page = "scenes"
    typed: ClassVar = {"name": "lead", "begin": "nothing"}
    wrong: ClassVar = {"name": " "}
    said = "A scene needs a name"

    def typed_texts(self) -> list[str]:
        return ["lead"]

    def test_it_stands_behind_the_others(self, cast: Cast, browser: Browser) -> None:
        board = make_board(cast.shop, scenes=(VERSE,))
        self.post(browser, board)
        assert plan_of(board).scenes == (VERSE, core.Scene("lead"))

    def test_it_begins_with_what_is_normally_engaged(self, browser: Browser, board: Board) -> None:
        Placement.objects.filter(board=board, ref="P2").update(on=True)
        self.post(browser, board, {"begin": "normal"})
        assert plan_of(board).scenes == (core.Scene("lead", ("P2",)),)

    def test_it_begins_as_a_copy_of_another(self, cast: Cast, browser: Browser) -> None:
        board = make_board(cast.shop, scenes=(VERSE, LEAD))
        copied = Scene.objects.get(board=board, name="lead")
        self.post(browser, board, {"name": "outro", "begin": f"scene-{copied.pk}"})
        assert plan_of(board).scenes[2] == core.Scene("outro", ("P1", "P2"))

    def test_a_scene_of_another_board_is_not_copied(self, cast: Cast, browser: Browser, board: Board) -> None:
        other = make_board(cast.shop, name="Other", scenes=(LEAD,))
        begin = f"scene-{Scene.objects.get(board=other).pk}"
        assert self.post(browser, board, {"begin": begin}).status_code == 422
        assert plan_of(board).scenes == ()

    @pytest.mark.parametrize(
        ("name", "said"),
        [
            ("", "A scene needs a name"),
            ("VERSE", "already has a scene of that name"),
            ("x" * 81, "at most 80 characters"),
            ("ver\u202ese", "turns the direction of the text"),
        ],
    )
    def test_a_name_that_cannot_be_is_refused_at_its_field(
        self, cast: Cast, browser: Browser, name: str, said: str
    ) -> None:
        board = make_board(cast.shop, scenes=(VERSE,))
        answer = self.post(browser, board, {"name": name})
        assert answer.status_code == 422
        (error,) = answer.context["add_scene"].errors["name"]
        assert said in error
        assert plan_of(board).scenes == (VERSE,)

    def test_80_characters_are_kept(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"name": "x" * 80})
        assert [len(scene.name) for scene in plan_of(board).scenes] == [80]

    @pytest.mark.parametrize(("count", "status"), [(MOST_SCENES - 1, 303), (MOST_SCENES, 422)])
    def test_a_board_holds_so_many(self, cast: Cast, browser: Browser, count: int, status: int) -> None:
        board = make_board(cast.shop, scenes=tuple(core.Scene(f"part {n}") for n in range(count)))
        answer = self.post(browser, board)
        assert answer.status_code == status
        assert status == 303 or "has 64 scenes, as many as a board holds" in answer.text

    def test_sent_twice_it_is_kept_once(self, browser: Browser, board: Board) -> None:
        answers = [self.post(browser, board, {"edit": 0}) for _click in range(2)]
        assert [answer.status_code for answer in answers] == [303, 303]
        assert len(plan_of(board).scenes) == 1


@pytest.mark.django_db
class TestTheService:
    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return get_board_for(cast.editor, make_board(cast.shop, scenes=(VERSE,)).code)

    def test_undo_and_redo(self, board: Board) -> None:
        add_scene(board, 0, "lead", Placement.objects.filter(board=board))
        assert Change.objects.get(board=board, number=1).sentences == [
            "Scene lead was added, with P1 and P2."
        ]
        undo_change(board, 1)
        assert plan_of(board).scenes == (VERSE,)
        redo_change(board, 2)
        assert plan_of(board).scenes == (VERSE, LEAD)

    @pytest.mark.parametrize(("name", "error"), [(" ", SceneNameMissing), ("Verse", SceneNameTaken)])
    def test_a_name_is_refused(self, board: Board, name: str, error: Any) -> None:
        with pytest.raises(error):
            add_scene(board, 0, name, [])

    def test_a_pedal_of_another_board_is_refused(self, cast: Cast, board: Board) -> None:
        other = make_board(cast.shop, name="Other")
        with pytest.raises(NotOfThisBoard):
            add_scene(board, 0, "lead", Placement.objects.filter(board=other))

    def test_one_too_many_says_so(self, board: Board) -> None:
        Scene.objects.bulk_create(Scene(board=board, name=f"{n}") for n in range(MOST_SCENES - 1))
        with pytest.raises(TooManyScenes, match="remove one first"):
            add_scene(board, 0, "lead", [])
