from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.gear.models import SupplyModel
from tests.board_factories import plan_of
from tests.boards.contract import RefusesWrongInput
from tests.factories import Cast, make_supply_model


class TestAddSupply(RefusesWrongInput):
    name = "add-supply"
    page = "power"
    wrong: ClassVar = {"gear": "m0"}
    said = "m0 is not one of the available choices"

    @pytest.fixture(autouse=True)
    def model(self, cast: Cast) -> SupplyModel:
        model = make_supply_model(cast.shop, name="Ridge 4", outlets="1 2")
        type(self).typed = {"gear": f"m{model.pk}", "ref": ""}
        return model

    def test_it_gets_the_next_free_ref(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        supply = plan_of(board).supplies[1]
        assert (supply.ref, len(supply.outlets), supply.place) == ("S2", 2, None)

    def test_a_ref_that_is_taken_is_refused(self, browser: Browser, board: Board) -> None:
        assert (
            "“s1” stands on Nightjar main already; write another one as Ref"
            in self.post(browser, board, {"ref": "s1"}).text
        )
