import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.core.feeding_cases import drawing
from tests.factories import Cast


def url(board: Board) -> str:
    return reverse("which-supply", args=[board.code])


@pytest.fixture
def weak(cast: Cast) -> Board:
    """One supply that cannot feed P2; the shop's catalogue has another that can."""
    strong = b.supply("S1", b.outlet("1", max_ma=400), b.outlet("2"), model="Strong 2", price=80.0)
    make_board(cast.shop, 1, name="Other", supplies=(strong,), feeds=())
    pedals = [drawing(20, "P1"), b.draws(drawing(300, "P2"), share="never")]
    return make_board(cast.shop, pedals, supplies=(b.supply("S1", b.outlet("1"), model="Weak 1"),), feeds=())


class TestWhichSupply(PageContract):
    name = "which-supply"

    def test_the_best_comes_first(self, cast: Cast, weak: Board) -> None:
        context = cast.browser("viewer").get(url(weak)).context
        assert context["instead"][0].name == "Strong 2"
        assert context["beside"][0].name == "Strong 2"

    def test_who_is_left_out_and_what_is_left_free_are_named(self, cast: Cast, weak: Board) -> None:
        context = cast.browser("viewer").get(url(weak)).context
        by_name = {one.name: one for one in context["beside"]}
        assert ["P2.DC" in name for name in by_name["Weak 1"].unfed] == [True]
        assert by_name["Strong 2"].choice.free == ("2",)

    def test_the_mains_of_the_tour_are_asked_for(self, cast: Cast, weak: Board) -> None:
        text = cast.browser("viewer").get(url(weak), {"mains": "230 V 50 Hz; 120 V 60 Hz"}).text
        assert "takes 230 V 50 Hz; 120 V 60 Hz by its plate" in text

    def test_without_a_venue_the_mains_are_not_asked(self, cast: Cast, board: Board) -> None:
        assert "not asked" in cast.browser("viewer").get(url(board)).text

    @pytest.mark.parametrize("typed", ["230V/50Hz", "230 V 50 Hz, 120 v 60 hz", "230 50;", ""])
    def test_mains_are_read_as_people_write_them(self, cast: Cast, board: Board, typed: str) -> None:
        assert cast.browser("viewer").get(url(board), {"mains": typed}).status_code == 200

    @pytest.mark.parametrize(
        "typed", ["230", "230 V 55 Hz", "mains", "1 V 50 Hz", "230 V 50 Hz;;x", "230 V, 50 Hz"]
    )
    def test_a_wrong_mains_is_said_and_kept(self, cast: Cast, board: Board, typed: str) -> None:
        answer = cast.browser("viewer").get(url(board), {"mains": typed})
        assert answer.status_code == 422
        assert "is no mains; write volts and 50 or 60 Hz" in answer.text
        assert f'value="{typed}"' in answer.text

    def test_an_editor_can_put_it_on_the_board(self, cast: Cast, weak: Board) -> None:
        browser = cast.browser("editor")
        best = browser.get(url(weak)).context["beside"][0]
        browser.post(reverse("add-supply", args=[weak.code]), {"edit": 0, "gear": best.gear[0]})
        assert weak.items.filter(supplyplacement__isnull=False).count() == 2

    def test_who_is_fed_by_none_of_them_is_told_with_what_it_needs(self, cast: Cast) -> None:
        pedals = [drawing(5000, "P1"), b.draws(b.pedal("P2"), polarity=None)]
        board = make_board(cast.shop, pedals, feeds=())
        told = cast.browser("viewer").get(url(board)).context["never_fed"]
        assert ["5000 mA" in told[0][1], told[1][1]] == [True, "not recorded: its plug polarity"]

    def test_a_shared_return_is_told_and_comes_behind_isolation(self, cast: Cast) -> None:
        grouped = b.supply("S1", *(b.outlet(n, group="A") for n in "12"), model="Grouped", weight=100)
        make_board(cast.shop, 1, name="Other", supplies=(grouped,), feeds=())
        page = cast.browser("viewer").get(url(make_board(cast.shop, 2, feeds=())))
        names = [one.name for one in page.context["instead"]]
        assert names.index("Ridge 8") < names.index("Grouped")
        assert "2 pedals share returns, where ground loops can run" in page.text

    def test_a_board_without_pedals_is_no_crash(self, cast: Cast) -> None:
        bare = make_board(cast.shop, 0, supplies=(), sources=(), amps=(), links=())
        assert "in the catalogue yet" in cast.browser("viewer").get(url(bare)).text

    def test_without_a_power_jack_nothing_is_searched(self, cast: Cast, board: Board) -> None:
        bare = make_board(cast.shop, 0, name="Bare", sources=(), amps=(), links=())
        assert "No pedal with a power jack" in cast.browser("viewer").get(url(bare)).text

    def test_an_empty_catalogue_leads_on(self, cast: Cast) -> None:
        bare = make_board(cast.shop, 1, supplies=(), feeds=())
        assert "No supply in the catalogue yet" in cast.browser("viewer").get(url(bare)).text
