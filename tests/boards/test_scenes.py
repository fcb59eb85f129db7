from typing import Any

import pytest

from boardshop.boards.models import Board, Scene
from boardshop.core import plan as core
from tests.board_factories import make_board
from tests.boards.page_contract import PageContract, pressing
from tests.core import builders as b
from tests.factories import Cast

VERSE, LEAD = core.Scene("verse", ("P1",)), core.Scene("lead", ("P1", "P2"))


def table_of(answer: Any) -> list[tuple[str, list[str]]]:
    """Each pedal's ref with what its cells say."""
    return [
        (line.pedal.ref, [f"{cell.sign} {cell.words}" for cell in line.cells])
        for line in answer.context["lines"]
    ]


class TestScenes(PageContract):
    name = "scenes"

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return make_board(cast.shop, scenes=(VERSE, LEAD))

    def test_which_pedal_is_engaged_is_said_by_sign_and_word(self, cast: Cast, board: Board) -> None:
        answer = cast.browser("viewer").get(self.url(board))
        assert table_of(answer) == [
            ("P1", ["● engaged", "● engaged"]),
            ("P2", ["○ bypassed", "● engaged"]),
        ]
        assert '<th scope="col">verse</th><th scope="col">lead</th>' in answer.text

    def test_its_pedals_stand_in_the_order_of_the_signal(self, cast: Cast) -> None:
        links = b.chain("G1", "P2", "P1", "A1")
        names = {"P1": "Low Ember", "P2": "Grey Vale", "P3": "Far Shed"}
        pedals = [b.pedal(ref, name=name) for ref, name in names.items()]
        board = make_board(cast.shop, pedals, links=links, scenes=(VERSE,))
        answer = cast.browser("editor").get(self.url(board))
        assert [(line.pedal.ref, line.pedal.number) for line in answer.context["lines"]] == [
            ("P2", 1),
            ("P1", 2),
            ("P3", None),
        ]
        assert [str(box.label) for box in answer.context["scenes"][0].form.boxes] == [
            "1 Grey Vale (P2)",
            "2 Low Ember (P1)",
            "Far Shed (P3), not wired",
        ]

    def test_what_nobody_switches_is_not_called_bypassed(self, cast: Cast) -> None:
        pedals = [b.pedal("P1", bypass="always-on"), b.pedal("P2", switches=()), b.pedal("P3")]
        board = make_board(cast.shop, pedals, scenes=(core.Scene("verse"),))
        assert table_of(cast.browser("viewer").get(self.url(board))) == [
            ("P1", ["– always acts"]),
            ("P2", ["– no foot switch"]),
            ("P3", ["○ bypassed"]),
        ]

    def test_without_scenes_it_says_what_one_is_for(self, cast: Cast) -> None:
        board = make_board(cast.shop)
        text = cast.browser("editor").get(self.url(board)).text
        assert "No scenes yet" in text
        assert 'id="add-scene"' in text
        assert 'id="add-scene"' not in cast.browser("viewer").get(self.url(board)).text

    def test_it_stands_under_the_order_tab_with_its_findings(self, cast: Cast, board: Board) -> None:
        answer = cast.browser("editor").get(self.url(board))
        assert answer.context["tab"] == "order"
        order = cast.browser("editor").get(f"/boards/{board.code}/order")
        assert pressing(cast.browser("editor"), self.url(board)) == [
            row.rule for row in order.context["findings"].pressing
        ]

    @pytest.mark.parametrize("count", [1, 30])
    def test_its_queries_do_not_grow_with_the_scenes(
        self, cast: Cast, count: int, django_assert_num_queries: Any
    ) -> None:
        scenes = tuple(core.Scene(f"part {n}", ("P1",)) for n in range(count))
        board, browser = make_board(cast.shop, scenes=scenes), cast.browser("editor")
        browser.get(self.url(board))
        with django_assert_num_queries(7):
            browser.get(self.url(board))

    def test_the_name_of_a_scene_stays_text(self, cast: Cast, board: Board) -> None:
        Scene.objects.filter(board=board, name="verse").update(name="<b>verse</b>")
        assert "<b>verse" not in cast.browser("editor").get(self.url(board)).text


@pytest.mark.django_db
def test_each_scene_says_what_is_heard_in_it(cast: Cast) -> None:
    """Delay into drive (R19) where both are engaged; what is wrong with the wiring is every scene's."""
    scenes = (core.Scene("clean", ("P1",)), LEAD)
    pedals = [b.pedal("P1", "delay"), b.pedal("P2", "overdrive"), b.pedal("P3", "tuner")]
    board = make_board(cast.shop, pedals, scenes=scenes, links=b.chain("G1", "P1", "P2", "A1"))
    cards = cast.browser("viewer").get(f"/boards/{board.code}/scenes").context["scenes"]
    heard = [(card.name, [one.rule for one in card.heard]) for card in cards]
    assert heard == [("clean", []), ("lead", ["R19"])]
