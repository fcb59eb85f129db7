import json
from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board, Placement
from boardshop.boards.services.pedals import change_pedal
from boardshop.core.boardfile import dump_plan, load_plan_text
from boardshop.gear.models import PedalModel, Unit, UnitDraw
from tests.board_factories import feeds_of, links_of, plan_of
from tests.boards.form_contract import FormContract
from tests.factories import Cast, make_pedal_model, make_unit


class TestChangePedal(FormContract):
    name = "change-pedal"
    args = ("P1",)
    page = "order"
    wrong: ClassVar = {"use": "9"}
    said = "Stepped on goes from 0 to 5; 9 is beyond that."
    unknown = ("P9",)

    @pytest.fixture(autouse=True)
    def pedal(self, board: Board) -> Placement:
        pedal = Placement.objects.get(board=board, ref="P1")
        type(self).typed = {"gear": f"m{pedal.model_id}", "ref": "P1", "use": "2"}
        return pedal

    def test_everything_but_place_and_wiring_is_changed(self, browser: Browser, board: Board) -> None:
        more = {"ref": "FZ", "on": "true", "use": "5", "settings": "gain 2", "turns": ["0", "90"]}
        self.post(browser, board, {**more, "together": ["P2"], "role": "drive"})
        pedal = plan_of(board).pedals[0]
        assert (pedal.ref, pedal.on, pedal.use, pedal.settings) == ("FZ", True, 5, "gain 2")
        assert (pedal.turns, pedal.together, pedal.role) == ((0, 90), ("P2",), "drive")
        assert links_of(board)["W1"] == "G1.OUT FZ.IN"

    def test_a_measured_draw_is_kept_on_a_unit(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"measured0": "19 mA"})
        assert plan_of(board).pedals[0].power[0].measured == 19
        assert Unit.objects.get().pedal_id == Placement.objects.get(ref="P1").model_id

    @pytest.fixture
    def two_units(self, cast: Cast, pedal: Placement) -> tuple[Unit, Unit]:
        """P1 is A, measured at 21 mA; B on the shelf was measured at 99 mA."""
        pair = [make_unit(cast.shop, pedal=pedal.model, serial=serial) for serial in ("A", "B")]
        for unit, measured in zip(pair, (21, 99), strict=True):
            UnitDraw.objects.create(unit=unit, jack="DC", measured=measured)
        Placement.objects.filter(pk=pedal.pk).update(unit=pair[0])
        return pair[0], pair[1]

    @pytest.mark.parametrize("shown", ["21", ""])
    def test_what_the_form_shows_of_one_unit_is_not_written_to_another(
        self, browser: Browser, board: Board, two_units: tuple[Unit, Unit], shown: str
    ) -> None:
        self.post(browser, board, {"gear": f"u{two_units[1].pk}", "measured0": shown})
        assert Placement.objects.get(board=board, ref="P1").unit == two_units[1]
        assert [unit.draws.get().measured for unit in two_units] == [21, 99]

    @pytest.mark.parametrize("other", ["unit", "any one"])
    def test_a_new_draw_does_not_come_with_the_choice_of_another_unit(
        self, browser: Browser, board: Board, pedal: Placement, two_units: tuple[Unit, Unit], other: str
    ) -> None:
        gear = f"u{two_units[1].pk}" if other == "unit" else f"m{pedal.model_id}"
        answer = self.post(browser, board, {"gear": gear, "measured0": "95"})
        assert answer.status_code == 422
        assert 'value="95"' in answer.text
        assert "Save the other pedal first" in answer.text
        assert [unit.draws.get().measured for unit in Unit.objects.order_by("serial")] == [21, 99]

    def test_a_new_draw_of_the_same_unit_is_written(
        self, browser: Browser, board: Board, two_units: tuple[Unit, Unit]
    ) -> None:
        self.post(browser, board, {"gear": f"u{two_units[0].pk}", "measured0": "23"})
        assert [unit.draws.get().measured for unit in two_units] == [23, 99]

    def test_the_service_writes_no_draw_to_another_unit_either(
        self, board: Board, pedal: Placement, two_units: tuple[Unit, Unit]
    ) -> None:
        pedal.refresh_from_db()
        change_pedal(board, 0, pedal, pedal.model, two_units[1], [], {"DC": 95})
        assert two_units[1].draws.get().measured == 99

    def test_any_one_of_the_model_takes_no_units_draw_along(
        self, browser: Browser, board: Board, pedal: Placement, two_units: tuple[Unit, Unit]
    ) -> None:
        self.post(browser, board, {"gear": f"m{pedal.model_id}", "measured0": "21"})
        pedal.refresh_from_db()
        assert (pedal.unit, Unit.objects.count()) == (None, 2)

    def test_another_model_takes_no_draw_along(
        self, cast: Cast, browser: Browser, board: Board, two_units: tuple[Unit, Unit]
    ) -> None:
        other = make_pedal_model(cast.shop, name="Other", power="9V")
        self.post(browser, board, {"gear": f"m{other.pk}", "measured0": "21"})
        assert Placement.objects.get(board=board, ref="P1").model == other
        assert Unit.objects.count() == 2
        assert plan_of(board).pedals[0].power[0].measured is None

    def test_a_link_whose_jack_means_something_else_on_the_new_model_goes(
        self, cast: Cast, browser: Browser, board: Board
    ) -> None:
        turned = make_pedal_model(cast.shop, name="Turned", jacks="IN:out OUT:in", power="DC")
        self.post(browser, board, {"gear": f"m{turned.pk}"})
        assert not [ends for ends in links_of(board).values() if "P1" in ends]
        load_plan_text(json.dumps(dump_plan(plan_of(board))).encode())

    def test_a_link_stays_where_the_new_role_joins_what_the_former_did(
        self, cast: Cast, browser: Browser, board: Board
    ) -> None:
        before = links_of(board)
        looper = make_pedal_model(cast.shop, name="Looper", jacks="IN:return OUT:send", power="DC")
        self.post(browser, board, {"gear": f"m{looper.pk}"})
        assert links_of(board) == before
        load_plan_text(json.dumps(dump_plan(plan_of(board))).encode())

    def test_a_draw_that_did_not_change_keeps_its_date(
        self, cast: Cast, browser: Browser, board: Board, pedal: Placement
    ) -> None:
        unit = make_unit(cast.shop, pedal=pedal.model, serial="KE-1")
        UnitDraw.objects.create(unit=unit, jack="DC", measured=21, on="2024-02-03", by="Jo")
        Placement.objects.filter(pk=pedal.pk).update(unit=unit)
        self.post(browser, board, {"gear": f"u{unit.pk}", "measured0": "21"})
        draw = UnitDraw.objects.get()
        assert (draw.measured, str(draw.on), draw.by) == (21, "2024-02-03", "Jo")

    def test_a_blank_draw_is_unknown_again(
        self, cast: Cast, browser: Browser, board: Board, pedal: Placement
    ) -> None:
        unit = make_unit(cast.shop, pedal=pedal.model, serial="KE-1")
        UnitDraw.objects.create(unit=unit, jack="DC", measured=21)
        Placement.objects.filter(pk=pedal.pk).update(unit=unit)
        self.post(browser, board, {"gear": f"u{unit.pk}", "measured0": ""})
        assert plan_of(board).pedals[0].power[0].measured is None

    def test_another_model_takes_over_links_on_jacks_of_the_same_names(
        self, cast: Cast, browser: Browser, board: Board
    ) -> None:
        model = make_pedal_model(cast.shop, jacks="IN:in THRU:out", power="DC")
        self.post(browser, board, {"gear": f"m{model.pk}"})
        assert links_of(board) == {"W1": "G1.OUT P1.IN", "W3": "P2.OUT A1.IN"}
        assert feeds_of(board) == {"P1.DC": "S1.1"}

    def test_the_page_shows_it_as_it_is(self, browser: Browser, board: Board, pedal: Placement) -> None:
        page = browser.get(self.url(board)).text
        assert f'<option value="m{pedal.model_id}" selected>' in page
        assert "Measured at DC" in page

    def test_a_ref_that_is_taken_is_refused_beside_its_field(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"ref": "g1"})
        assert answer.status_code == 422
        assert "“g1” stands on Nightjar main already" in answer.context["pedal_form"].errors["ref"][0]

    def test_gear_of_another_shop_is_refused(self, cast: Cast, browser: Browser, board: Board) -> None:
        other = make_pedal_model(cast.stranger.shops.get())
        assert self.post(browser, board, {"gear": f"m{other.pk}"}).status_code == 422
        assert PedalModel.objects.filter(placements__board=board, pk=other.pk).count() == 0
