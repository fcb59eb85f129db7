from typing import ClassVar

from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.gear.models import PlugType
from tests.board_factories import links_of, plan_of
from tests.boards.contract import NamesAThing, RefusesWrongInput


class TestChangeLink(RefusesWrongInput, NamesAThing):
    name = "change-link"
    args = ("W2",)
    page = "cables"
    typed: ClassVar = {"source": "P1.OUT", "target": "P2.IN", "route": "under", "length": "700"}
    wrong: ClassVar = {"length": "long"}
    said = "“long” is no length"
    unknown = ("W77",)

    def typed_texts(self) -> list[str]:
        return ["700"]

    def typed_for(self, board: Board, pedals: int) -> dict[str, str]:
        return {} if pedals > 1 else {"target": "A1.IN"}

    def test_its_row_keeps_cable_plugs_and_route(self, browser: Browser, board: Board) -> None:
        plug = PlugType.objects.first()
        self.post(browser, board, {"plug_from": plug.pk})
        link = plan_of(board).links[1]
        assert (link.route, link.length) == ("under", 700)
        assert next(p.name for p in plan_of(board).plugs if p.ref == link.plug_from) == plug.name

    def test_its_own_page_changes_its_ends(self, browser: Browser, board: Board) -> None:
        board.items.filter(ref="W3").delete()
        answer = self.post(browser, board, {"ends": "1", "target": "A1.IN"})
        assert answer.url == f"{reverse('cables', args=[board.code])}#link-W2"
        assert links_of(board)["W2"] == "P1.OUT A1.IN"

    def test_its_page_shows_it_as_it_is(self, browser: Browser, board: Board) -> None:
        page = browser.get(self.url(board)).text
        assert '<option value="P1.OUT" selected>' in page
        assert '<option value="P2.IN" selected>' in page

    def test_a_refusal_on_its_page_keeps_what_was_typed(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"ends": "1", "target": "A1.IN"})
        assert answer.status_code == 422
        assert "A1.IN already has a link" in answer.text
        assert '<option value="A1.IN" selected>' in answer.text

    def test_a_conflict_on_its_page_keeps_what_was_typed(self, browser: Browser, board: Board) -> None:
        Board.objects.update(edit_number=3)
        answer = self.post(browser, board, {"edit": 2, "ends": "1", "length": "777"})
        assert answer.status_code == 409
        assert 'value="777"' in answer.text
        assert 'name="edit" value="3"' in answer.text

    def test_a_viewer_cannot_open_its_page(self, cast, board: Board) -> None:
        assert cast.browser("viewer").get(self.url(board)).status_code == 403
        assert cast.browser("stranger").get(self.url(board)).status_code == 404

    def test_an_absurd_length_is_asked_about_in_words_and_kept_once_confirmed(
        self, browser: Browser, board: Board
    ) -> None:
        answer = self.post(browser, board, {"length": "600 m"})
        assert answer.status_code == 422
        assert "600000 mm is 600 m, longer than the 100 m that such a cable usually has" in answer.text
        assert 'value="600 m"' in answer.text
        assert "lengths_are_right" in answer.text
        self.post(browser, board, {"length": "600 m", "lengths_are_right": "on"})
        assert plan_of(board).links[1].length == 600_000
        assert 'name="lengths_are_right" id="link-W2-lengths_are_right" checked' in " ".join(
            browser.get(reverse("cables", args=[board.code])).text.split()
        )

    def test_a_made_cable_of_thirty_metres_is_asked_about(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"ends": "1", "length": "", "made": "30 m"})
        assert answer.status_code == 422
        assert "longer than the 20 m" in answer.text

    def test_the_tick_does_not_stand_on_a_usual_row(self, browser: Browser, board: Board) -> None:
        assert 'name="lengths_are_right"' not in browser.get(reverse("cables", args=[board.code])).text
