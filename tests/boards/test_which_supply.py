from typing import Any

import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.core import builders as b
from tests.core.feeding_cases import drawing
from tests.factories import Cast


def url(board: Board) -> str:
    return reverse("which-supply", args=[board.code])


@pytest.fixture
def board(cast: Cast) -> Board:
    """One supply that cannot feed P2; the shop's catalogue has another that can."""
    strong = b.supply("S1", b.outlet("1", max_ma=400), b.outlet("2"), model="Strong 2", price=80.0)
    make_board(cast.shop, 1, name="Other", supplies=(strong,), feeds=())
    pedals = [drawing(20, "P1"), b.draws(drawing(300, "P2"), share="never")]
    return make_board(cast.shop, pedals, supplies=(b.supply("S1", b.outlet("1"), model="Weak 1"),), feeds=())


@pytest.mark.django_db
class TestWhichSupply:
    def test_the_best_comes_first(self, cast: Cast, board: Board) -> None:
        context = cast.browser("viewer").get(url(board)).context
        assert context["instead"][0].name == "Strong 2"
        assert context["beside"][0].name == "Strong 2"

    def test_who_is_left_out_and_what_is_left_free_are_named(self, cast: Cast, board: Board) -> None:
        context = cast.browser("viewer").get(url(board)).context
        by_name = {one.name: one for one in context["beside"]}
        assert ["P2.DC" in name for name in by_name["Weak 1"].unfed] == [True]
        assert by_name["Strong 2"].choice.free == ("2",)

    def test_the_mains_of_the_tour_are_asked_for(self, cast: Cast, board: Board) -> None:
        text = cast.browser("viewer").get(url(board), {"mains": "230 V 50 Hz; 120 V 60 Hz"}).text
        assert "takes 230 V 50 Hz; 120 V 60 Hz by its plate" in text

    def test_without_a_venue_the_mains_are_not_asked(self, cast: Cast, board: Board) -> None:
        assert "not asked" in cast.browser("viewer").get(url(board)).text

    @pytest.mark.parametrize("typed", ["230", "230 V 55 Hz", "mains", "1 V 50 Hz", "230 V 50 Hz;;x"])
    def test_a_wrong_mains_is_said_and_kept(self, cast: Cast, board: Board, typed: str) -> None:
        answer = cast.browser("viewer").get(url(board), {"mains": typed})
        assert answer.status_code == 422
        assert "is no mains; write volts and 50 or 60 Hz" in answer.text
        assert f'value="{typed}"' in answer.text

    def test_an_editor_can_put_it_on_the_board(self, cast: Cast, board: Board) -> None:
        browser = cast.browser("editor")
        best = browser.get(url(board)).context["beside"][0]
        browser.post(reverse("add-supply", args=[board.code]), {"edit": 0, "gear": best.gear[0]})
        assert board.items.filter(supplyplacement__isnull=False).count() == 2

    def test_a_viewer_is_offered_no_edit(self, cast: Cast, board: Board) -> None:
        text = cast.browser("viewer").get(url(board)).text
        assert "Put it on the board" not in text

    def test_a_stranger_gets_404(self, cast: Cast, board: Board) -> None:
        assert cast.browser("stranger").get(url(board)).status_code == 404

    def test_other_methods_are_refused(self, cast: Cast, board: Board) -> None:
        assert cast.browser("editor").post(url(board)).status_code == 405

    def test_a_board_without_pedals_is_no_crash(self, cast: Cast) -> None:
        bare = make_board(cast.shop, 0, supplies=(), sources=(), amps=(), links=())
        assert "in the catalogue yet" in cast.browser("viewer").get(url(bare)).text

    def test_without_a_power_jack_nothing_is_searched(self, cast: Cast, board: Board) -> None:
        bare = make_board(cast.shop, 0, name="Bare", sources=(), amps=(), links=())
        assert "No pedal with a power jack" in cast.browser("viewer").get(url(bare)).text

    def test_an_empty_catalogue_leads_on(self, cast: Cast) -> None:
        bare = make_board(cast.shop, 1, supplies=(), feeds=())
        assert "No supply in the catalogue yet" in cast.browser("viewer").get(url(bare)).text

    def test_its_queries_do_not_grow(self, cast: Cast, django_assert_max_num_queries: Any) -> None:
        browser = cast.browser("editor")
        for pedals in (1, 8):
            grown = make_board(cast.shop, pedals, name=f"Board {pedals}")
            with django_assert_max_num_queries(9):
                browser.get(url(grown))
