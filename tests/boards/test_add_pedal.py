from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.gear.models import PedalModel, Unit
from tests.board_factories import plan_of
from tests.boards.contract import RefusesWrongInput
from tests.factories import Cast, make_pedal_model, make_unit


class TestAddPedal(RefusesWrongInput):
    name = "add-pedal"
    page = "order"
    wrong: ClassVar = {"gear": "m0"}
    said = "m0 is not one of the available choices"

    @pytest.fixture(autouse=True)
    def model(self, cast: Cast) -> PedalModel:
        model = make_pedal_model(cast.shop, name="Long Vowel", kind="wah")
        type(self).typed = {"gear": f"m{model.pk}", "ref": ""}
        return model

    def test_it_gets_the_next_free_ref(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        pedal = plan_of(board).pedals[2]
        assert (pedal.ref, pedal.name, pedal.kind, pedal.place) == ("P3", "Long Vowel", "wah", None)

    def test_a_ref_may_be_typed(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"ref": "WAH"})
        assert plan_of(board).pedals[2].ref == "WAH"

    @pytest.mark.parametrize(
        ("ref", "said"),
        [
            ("p1", "“p1” stands on Nightjar main already; write another one as Ref"),
            ("two words", "“two words” cannot stand as Ref; write letters and digits only"),
            ("x.y", "“x.y” cannot stand as Ref"),
        ],
    )
    def test_a_ref_that_cannot_be(self, browser: Browser, board: Board, ref: str, said: str) -> None:
        answer = self.post(browser, board, {"ref": ref})
        assert answer.status_code == 422
        assert said in answer.context["add_pedal"].errors["ref"][0]
        assert len(plan_of(board).pedals) == 2

    def test_one_physical_unit_may_be_chosen(self, cast: Cast, browser: Browser, board: Board) -> None:
        unit = make_unit(cast.shop, pedal=PedalModel.objects.get(name="Long Vowel"), serial="LV-7")
        self.post(browser, board, {"gear": f"u{unit.pk}"})
        assert plan_of(board).pedals[2].unit == "LV-7"

    def test_gear_of_another_shop_is_not_offered(self, cast: Cast, browser: Browser, board: Board) -> None:
        other = make_pedal_model(cast.stranger.shops.get())
        assert self.post(browser, board, {"gear": f"m{other.pk}"}).status_code == 422
        assert Unit.objects.count() == 0
