from typing import ClassVar

import pytest
from django.http import HttpResponse
from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.boards.sheet import BoardSheet
from boardshop.core import plan as core
from boardshop.core.boardfile.amounts import AWG
from tests.board_factories import feeds_of, make_board, plan_of
from tests.boards.contract import HTMX, NamesAThing, RefusesWrongInput
from tests.core import builders as b
from tests.factories import Cast


class TestFeedPedal(RefusesWrongInput, NamesAThing):
    name = "feed-pedal"
    args = ("P2.DC",)
    page = "power"
    typed: ClassVar = {"outlet": "S1.3@9000", "length": "40 cm", "awg": "22", "open": "P2.DC"}
    wrong: ClassVar = {"awg": "thin"}
    said = "Enter a whole number"
    unknown = ("P9.DC",)
    most_queries = 20
    """The jacks, the outlets and the feed, and for the page when the draws were measured."""

    def typed_texts(self) -> list[str]:
        return ["40 cm", "22"]

    def url(self, board: Board, args: tuple[str, ...] | None = None) -> str:
        end = "P1.DC" if board.items.filter(ref="P2").count() == 0 else "P2.DC"
        return super().url(board, args or (end,))

    def test_the_jack_is_fed(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"adapters": ["reverser"], "connector": "barrel 5.5/2.1", "pinned": "on"})
        feed = plan_of(board).feeds[1]
        assert (feed.outlets, feed.jacks, feed.settings) == (("S1.3",), ("P2.DC",), (9000,))
        assert (feed.adapters, feed.pinned) == (("reverser",), True)
        assert feed.lead == core.DcLead(length=400, awg=22, connector="barrel 5.5/2.1")

    def test_one_outlet_cannot_be_joined_with_itself(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"second": "S1.3@9000", "adapters": ["series"]})
        assert answer.status_code == 422
        assert "S1.3 is chosen twice; join it with another outlet, or with none." in answer.text

    def test_two_outlets_are_joined_one_way(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"second": "S1.4@9000", "adapters": ["parallel", "series"]})
        assert answer.status_code == 422
        assert "in parallel or in series; choose one." in answer.text

    @pytest.mark.parametrize(
        ("mm2", "status"), [("0.205", 303), ("0.214", 303), ("0.217", 422), ("0.194", 422), ("2", 422)]
    )
    def test_a_gauge_and_an_area_are_of_one_wire(
        self, browser: Browser, board: Board, mm2: str, status: int
    ) -> None:
        # ASTM B258: AWG 24 is 0.205 mm2
        answer = self.post(browser, board, {"awg": "24", "mm2": mm2})
        assert answer.status_code == status
        assert ("AWG 24 has 0.205 mm²" in answer.text) == (status == 422)

    def test_another_outlet_replaces_the_first(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        self.post(browser, board, {"outlet": "S1.5@9000", "length": "", "awg": ""})
        assert feeds_of(board) == {"P1.DC": "S1.1", "P2.DC": "S1.5"}
        assert plan_of(board).feeds[1].lead == core.DcLead()

    def test_the_finest_gauge_of_a_board_file_can_be_typed(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"awg": str(AWG.most)})
        assert plan_of(board).feeds[1].lead.awg == 56

    def test_two_outlets_may_be_joined(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"second": "S1.4@9000", "adapters": ["parallel"]})
        assert feeds_of(board)["P2.DC"] == "S1.3 S1.4"

    @pytest.mark.parametrize(
        ("typed", "said"),
        [
            ({"outlet": ""}, "Choose an outlet"),
            ({"outlet": "S1.3"}, "no outlet of the list"),
            ({"outlet": "S1.77@9000"}, "Outlet 77 does not exist on supply S1"),
            ({"outlet": "S9.1@9000"}, "Outlet 1 does not exist on supply S9"),
            ({"outlet": "S1.3@12000"}, "cannot be set to 12 V"),
            ({"adapters": ["magic"]}, "magic"),
            ({"awg": "57"}, "Conductor AWG goes from 0 to 56; 57 is beyond that."),
            ({"awg": "-1"}, "Conductor AWG goes from 0 to 56; -1 is beyond that."),
        ],
    )
    def test_what_cannot_feed_it(
        self, browser: Browser, board: Board, typed: dict[str, object], said: str
    ) -> None:
        answer = self.post(browser, board, typed)
        assert answer.status_code == 422
        assert said in answer.text
        assert feeds_of(board) == {"P1.DC": "S1.1"}

    def test_one_outlet_keeps_one_voltage(self, cast: Cast, browser: Browser) -> None:
        two = b.outlet(
            "1", settings=(core.OutletSetting(9000, 9000, 100), core.OutletSetting(12000, 12000, 80))
        )
        feeds = (b.feed("S1.1", "P1.DC", 9000),)
        board = make_board(cast.shop, supplies=(b.supply("S1", two),), feeds=feeds)
        answer = self.post(browser, board, {"outlet": "S1.1@12000"})
        assert answer.status_code == 422
        assert "one outlet has one setting at a time" in answer.text

    def test_a_variable_outlet_takes_a_typed_voltage(self, cast: Cast, browser: Browser) -> None:
        supply = b.supply("S1", b.outlet("1", settings=(core.OutletSetting(9000, 18000, 100),)))
        board = make_board(cast.shop, supplies=(supply,), feeds=())
        self.post(browser, board, {"outlet": "S1.1@9000", "volts": "10,5"})
        assert plan_of(board).feeds[0].settings == (10500,)

    def test_what_would_destroy_it_is_found_at_once(self, cast: Cast, browser: Browser) -> None:
        outlet = b.outlet("1", polarity="centre-positive")
        board = make_board(cast.shop, supplies=(b.supply("S1", outlet),), feeds=())
        answer = self.post(browser, board, {"outlet": "S1.1@9000"}, headers=HTMX)
        worst = answer.context["findings"].pressing[0]
        assert (worst.rule, worst.severity) == ("P05", "damage")
        assert set(worst.subjects) == {"S1.1", "P2.DC"}

    def test_the_next_jack_opens(self, browser: Browser, board: Board) -> None:
        Board.objects.get().feeds.all().delete()
        answer = self.post(browser, board, headers=HTMX)
        assert answer.context["opened"].ref == "P1.DC"


@pytest.mark.django_db
def test_every_outlet_is_offered_with_what_speaks_against_it(cast: Cast) -> None:
    supply = b.supply("S1", b.outlet("1"), b.outlet("2", polarity="centre-positive"), b.outlet("3", max_ma=5))
    board = make_board(cast.shop, 1, supplies=(supply,), feeds=())
    answer = cast.browser("editor").get(f"/boards/{board.code}/power", {"open": "P1.DC"})
    offered = {offer.choice.outlet: offer.choice.verdict for offer in answer.context["offers"]}
    assert offered == {"S1.1": "right", "S1.2": "damage", "S1.3": "fault"}


@pytest.mark.django_db
class TestOutletsInUse:
    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        supply = b.supply("S1", b.outlet("1"), b.outlet("2"), b.outlet("3", max_ma=500))
        return make_board(cast.shop, 2, supplies=(supply,), feeds=(b.feed("S1.1", "P1.DC"),))

    def page(self, cast: Cast, board: Board, opened: str) -> HttpResponse:
        return cast.browser("editor").get(f"/boards/{board.code}/power", {"open": opened})

    def test_free_ones_stand_first_and_the_others_say_what_they_feed(self, cast: Cast, board: Board) -> None:
        context = self.page(cast, board, "P2.DC").context
        assert [offer.choice.outlet for offer in context["offers"]] == ["S1.2", "S1.3"]
        assert [(o.choice.outlet, o.feeds) for o in context["shared_offers"]] == [("S1.1", "P1.DC")]
        text = self.page(cast, board, "P2.DC").text
        form = text[text.index('class="offers"') :]
        assert form.index('value="S1.3@9000"') < form.index("feeds P1.DC")
        assert form.index("These feed something already") < form.index('value="S1.1@9000"')

    def test_the_outlet_of_the_jack_itself_is_free_for_it(self, cast: Cast, board: Board) -> None:
        context = self.page(cast, board, "P1.DC").context
        assert [offer.choice.outlet for offer in context["offers"]] == ["S1.1", "S1.2", "S1.3"]
        assert context["shared_offers"] == []

    def test_one_to_join_with_says_it_too(self, cast: Cast, board: Board) -> None:
        form = self.page(cast, board, "P2.DC").context["feed_form"]
        assert [words for _, words in form.fields["second"].widget.choices] == [
            "none",
            "S1.2, 9 V, 100 mA",
            "S1.3, 9 V, 500 mA",
            "S1.1, 9 V, 100 mA · feeds P1.DC",
        ]

    def test_one_in_use_may_be_shared_and_the_core_has_its_say(self, cast: Cast) -> None:
        never = [b.pedal("P1"), b.draws(b.pedal("P2"), share="never")]
        board = make_board(cast.shop, never, feeds=(b.feed("S1.1", "P1.DC"),))
        typed = {"edit": 0, "outlet": "S1.1@9000"}
        cast.browser("editor").post(f"/boards/{board.code}/feeds/P2.DC/feed", typed)
        assert feeds_of(board) == {"P1.DC": "S1.1", "P2.DC": "S1.1"}
        assert "P13" in {finding.rule for finding in BoardSheet(board).power.findings}
