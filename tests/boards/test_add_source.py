from typing import ClassVar

from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.core.plan import Pickup
from tests.board_factories import plan_of
from tests.boards.contract import RefusesWrongInput


class TestAddSource(RefusesWrongInput):
    name = "add-source"
    page = "order"
    typed: ClassVar = {"pickup_r": "6k", "pickup_l": "2,5", "pickup_c": "110", "volume_ohm": "250k"}
    wrong: ClassVar = {"pickup_l": "much"}
    said = "Enter a number"

    def typed_texts(self) -> list[str]:
        return ["6k", "2,5", "250k"]

    def test_what_is_known_of_it_is_kept_and_the_rest_is_unknown(
        self, browser: Browser, board: Board
    ) -> None:
        self.post(browser, board)
        source = plan_of(board).sources[1]
        assert (source.ref, source.pickup, source.volume_ohm) == ("G2", Pickup(6000, 2.5, 110), 250_000)
        assert (source.tone_ohm, source.output_ohm) == (None, None)
