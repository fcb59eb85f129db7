from django.test import Client as Browser
from django.utils import timezone

from boardshop.boards.models import Board, LeadReading
from tests.boards.contract import HTMX
from tests.boards.test_take_back_reading import OneReading


class TestPutBackReading(OneReading):
    name = "put-back-reading"

    def prepare(self, reading: LeadReading) -> None:
        reading.taken_back_at, reading.taken_back_by = timezone.now(), "Jo"
        reading.save(update_fields=["taken_back_at", "taken_back_by"])

    def test_it_counts_again(self, browser: Browser, board: Board) -> None:
        row = self.post(browser, board, headers=HTMX).context["rows"][0]
        assert (row.plug.mv, row.plug_verdict.state, row.log) == (9100, "as planned", [])
        reading = board.readings.get()
        assert (reading.taken_back_at, reading.taken_back_by) == (None, "")

    def test_it_stands_in_the_history(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert board.changes.get().sentences == ["A reading at P1.DC counts again: 9.1 V, centre-negative."]
