from django.test import Client as Browser
from django.utils import timezone

from boardshop.boards.models import Board, Change
from boardshop.gear.models import UnitDraw
from tests.board_factories import make_board, plan_of
from tests.boards.contract import HTMX
from tests.boards.readings import meter, meter_load
from tests.boards.test_take_back_reading import OneReading
from tests.core import builders as b
from tests.factories import Cast


class TestKeepDraw(OneReading):
    name = "keep-draw"
    most_queries = 32
    """The unit is locked, its jacks and draws are read, and the plan is compared before and after."""

    def make(self, cast: Cast, pedals: int = 1) -> Board:
        """Each pedal a unit of its own."""
        own = [b.pedal(f"P{n}", unit=f"{pedals}-{n}", name="Low Ember") for n in range(1, pedals + 1)]
        return make_board(cast.shop, own)

    def ready(self, cast: Cast, board: Board) -> Board:
        meter(board, cast.editor)
        meter_load(board, cast.editor, 42)
        Change.objects.all().delete()
        Board.objects.filter(pk=board.pk).update(edit_number=0)
        return board

    def test_one_of_another_board_is_not_found(self, cast: Cast, browser: Browser, board: Board) -> None:
        other = self.ready(cast, make_board(cast.shop, name="Other"))
        url = self.url(board, (other.readings.latest("pk").pk,))
        assert browser.post(url, {"edit": 0}).status_code == 404

    def test_the_unit_keeps_it_with_who_and_when(self, cast: Cast, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        draw = UnitDraw.objects.get()
        assert (draw.jack, draw.measured, draw.by) == ("DC", 42, str(cast.editor))
        assert draw.on == timezone.localdate()
        assert plan_of(board).pedals[0].power[0].measured == 42

    def test_it_is_offered_until_it_is_kept(self, browser: Browser, board: Board) -> None:
        page = browser.get(f"/boards/{board.code}/power/first-power").text
        assert "Keep 42 mA as the measured draw of this unit" in page
        assert "as the measured draw" not in self.post(browser, board, headers=HTMX).text

    def test_a_pedal_without_a_unit_has_nothing_to_keep_it_in(self, cast: Cast, browser: Browser) -> None:
        board = self.ready(cast, make_board(cast.shop))
        assert "Choose its unit" in browser.get(f"/boards/{board.code}/power/first-power").text
        answer = self.post(browser, board, headers=HTMX)
        assert answer.status_code == 422
        assert "choose its unit on the pedal’s page first" in answer.text.replace("&#x27;", "’")
        assert not UnitDraw.objects.exists()

    def test_volts_are_no_current(self, browser: Browser, board: Board) -> None:
        plug = board.readings.earliest("pk").pk
        answer = browser.post(self.url(board, (plug,)), {"edit": 0})
        assert answer.status_code == 422
        assert "holds no current to keep" in answer.text
        assert not UnitDraw.objects.exists()
