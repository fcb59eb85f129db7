from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.boards.pages.goals import GoalWords
from boardshop.boards.services.feeds import Chosen, move_feed
from boardshop.boards.sheet import BoardSheet
from boardshop.core import plan as core
from boardshop.core.power import Goal
from boardshop.core.power import move_feed as moved_value
from tests.board_factories import feeds_of, make_board, plan_of
from tests.boards.contract import HTMX, NamesAThing, RefusesWrongInput
from tests.core import builders as b
from tests.core.feeding_cases import drawing, selectable
from tests.factories import Cast


class TestMoveFeed(RefusesWrongInput, NamesAThing):
    name = "move-feed"
    args = ("P1.DC",)
    page = "power"
    typed: ClassVar = {"outlet": "S1.3@9000"}
    wrong: ClassVar = {"outlet": "S1.77@9000"}
    said = "Outlet 77 does not exist on supply S1; choose one of its own outlets."
    unknown = ("P9.DC",)
    most_queries = 20
    """The jacks, the outlets and the feed, and for the page when the draws were measured."""

    def test_the_plug_is_in_the_other_outlet(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert feeds_of(board) == {"P1.DC": "S1.3"}

    def test_a_jack_that_waited_is_fed(self, browser: Browser, board: Board) -> None:
        browser.post(self.url(board, ("p2.dc",)), {"edit": 0, **self.typed})
        assert feeds_of(board) == {"P1.DC": "S1.1", "P2.DC": "S1.3"}

    def test_an_outlet_in_use_is_shared(self, browser: Browser, board: Board) -> None:
        browser.post(self.url(board, ("P2.DC",)), {"edit": 0, "outlet": "S1.1@9000"})
        assert feeds_of(board) == {"P1.DC": "S1.1", "P2.DC": "S1.1"}
        assert len(plan_of(board).feeds) == 2

    def test_the_plug_is_pulled(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"outlet": "unfed"})
        assert (feeds_of(board), board.feeds.count()) == ({}, 0)

    def test_the_same_outlet_again_is_no_edit(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        answer = self.post(browser, board, headers=HTMX)
        assert answer.status_code == 200
        assert Board.objects.get(pk=board.pk).edit_number == 1

    def test_it_can_be_undone(self, browser: Browser, board: Board) -> None:
        before = plan_of(board)
        self.post(browser, board)
        answer = browser.get(f"/boards/{board.code}/power")
        undone = answer.context["steps"].undo
        browser.post(f"/boards/{board.code}/undo", {"edit": 1, "change": undone.number, "page": "power"})
        assert plan_of(board).feeds == before.feeds

    @pytest.mark.parametrize(
        ("typed", "said"),
        [
            ("", "Choose an outlet."),
            ("S1.3", "This is no outlet of the list"),
            ("S1.3@12000", "cannot be set to 12 V"),
            ("S2.1@9000", "Outlet 1 does not exist on supply S2"),
        ],
    )
    def test_what_cannot_be_stands_beside_the_choice(
        self, browser: Browser, board: Board, typed: str, said: str
    ) -> None:
        answer = self.post(browser, board, {"outlet": typed}, headers=HTMX)
        assert answer.status_code == 422
        row = answer.text[answer.text.index('id="form-move-P1-DC"') :]
        assert said in row[: row.index("</form>")]
        assert feeds_of(board) == {"P1.DC": "S1.1"}

    def test_an_outlet_of_another_board_is_none_of_this_one(
        self, cast: Cast, browser: Browser, board: Board
    ) -> None:
        make_board(cast.shop, name="Other", supplies=(b.supply("S9"),), feeds=())
        answer = self.post(browser, board, {"outlet": "S9.1@9000"})
        assert answer.status_code == 422
        assert "Outlet 1 does not exist on supply S9" in answer.text
        assert feeds_of(board) == {"P1.DC": "S1.1"}

    def test_a_choice_that_was_refused_stays_chosen(self, cast: Cast, browser: Browser) -> None:
        feeds = (b.feed("S1.1", "P1.DC", 18000), b.feed("S1.2", "P2.DC"))
        board = make_board(cast.shop, supplies=(b.supply("S1", selectable("1"), b.outlet("2")),), feeds=feeds)
        answer = browser.post(self.url(board, ("P2.DC",)), {"edit": 0, "outlet": "S1.1@9000"}, headers=HTMX)
        assert answer.status_code == 422
        assert "one outlet has one setting at a time" in answer.text
        row = next(row for row in answer.context["rows"] if row.ref == "P2.DC")
        assert row.move["outlet"].value() == "S1.1@9000"

    def test_one_jack_has_one_feed_however_often_it_is_moved(self, browser: Browser, board: Board) -> None:
        for outlet in ("S1.2", "S1.3", "S1.4"):
            self.post(browser, board, {"outlet": f"{outlet}@9000"})
        assert [(feed.outlets, feed.jacks) for feed in plan_of(board).feeds] == [(("S1.4",), ("P1.DC",))]

    def test_the_next_jack_opens_where_the_opened_one_was_fed(self, browser: Browser, board: Board) -> None:
        board.feeds.all().delete()
        answer = browser.post(
            self.url(board), {"edit": 0, "outlet": "S1.1@9000", "open": "P1.DC"}, headers=HTMX
        )
        assert answer.context["opened"].ref == "P2.DC"


@pytest.mark.django_db
class TestWhatTheCoreSaysOfIt:
    """The service moves rows, the core a value: both must come to the same feeds."""

    FEEDS: ClassVar = {
        "alone": (
            b.feed("S1.1", "P1.DC", 9000, adapters=("reverser",), pinned=True),
            b.feed("S1.2", "P2.DC", 9000),
        ),
        "joined": (b.feed(["S1.1", "S1.2"], "P1.DC", 9000, adapters=("parallel",)),),
        "in a chain": (b.feed("S1.1", ["P1.DC", "P2.DC"], 9000, adapters=("reverser",)),),
        "waiting": (b.feed("S1.2", "P2.DC", 9000),),
    }

    @pytest.mark.parametrize("case", FEEDS)
    @pytest.mark.parametrize("goal", [Goal("S1.3", 9000), Goal("S1.2", 9000), None])
    def test_both_come_to_the_same(self, cast: Cast, case: str, goal: Goal | None) -> None:
        feeds = [core.Feed(f.outlets, f.jacks, f.settings, f.adapters, f.pinned) for f in self.FEEDS[case]]
        board = make_board(cast.shop, feeds=feeds)
        expected = moved_value(plan_of(board), "P1.DC", goal)
        move_feed(board, 0, "P1.DC", Chosen(goal.outlet, goal.setting_mv) if goal else None)
        found = [feed for feed in plan_of(board).feeds if "P1.DC" in feed.jacks]
        assert found == ([expected] if goal else [])

    def test_a_lead_comes_along(self, cast: Cast) -> None:
        board = make_board(cast.shop)
        lead = plan_of(board).feeds[0].lead
        move_feed(board, 0, "P1.DC", Chosen("S1.3", 9000))
        assert plan_of(board).feeds[0].lead == lead
        assert lead is not None


@pytest.mark.django_db
def test_three_small_edits_push_a_group_over_its_limit_and_the_third_is_found(cast: Cast) -> None:
    """150 + 80 + 100 = 330 mA on a group of 300 mA, each outlet within its own 500 mA."""
    pedals = [drawing(150, "P1"), drawing(80, "P2"), drawing(100, "P3")]
    outlets = [b.outlet(str(n), max_ma=500, group="A", group_max_ma=300) for n in (1, 2, 3)]
    board = make_board(cast.shop, pedals, supplies=(b.supply("S1", *outlets),), feeds=())
    browser = cast.browser("editor")
    found = []
    for number in (1, 2, 3):
        typed = {"edit": number - 1, "outlet": f"S1.{number}@9000"}
        answer = browser.post(f"/boards/{board.code}/feeds/P{number}.DC/move", typed, headers=HTMX)
        assert answer.status_code == 200
        rows = (*answer.context["findings"].pressing, *answer.context["findings"].advice)
        found.append([row.severity for row in rows if (row.rule, row.subjects) == ("P08", ("S1/A",))])
    assert found == [[], [], ["fault"]]
    assert "S1/A carries 330 mA of 300 mA" in answer.text
    bay = answer.context["faces"][0].bays[0]
    assert [note.rule for note in bay.beside.urgent] == ["P08"]
    assert (bay.total.figures, bay.total.says) == (
        "330 of 300 mA, 110.0 %",
        "over its limit, 30 mA too much",
    )


@pytest.mark.django_db
def test_a_voltage_that_nobody_recorded_is_not_shown_as_chosen(cast: Cast) -> None:
    board = make_board(
        cast.shop, supplies=(b.supply("S1", selectable("1")),), feeds=(b.feed("S1.1", "P1.DC"),)
    )
    sheet = BoardSheet(board)
    form = GoalWords(sheet).make_form("move-P1-DC", "P1.DC", sheet.plan.feeds[0])
    assert form["outlet"].value() == ""
