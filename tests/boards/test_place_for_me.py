from html import unescape

import pytest

from boardshop.boards.models import Board
from boardshop.core.placing import Wishes, find_impossible
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.boards.searches import PLACING, answered
from tests.core import builders as b
from tests.factories import Cast


class TestPlaceForMe(PageContract):
    name = "place-for-me"

    def test_it_offers_what_is_most_likely_wanted(self, cast: Cast) -> None:
        some = make_board(cast.shop, [b.pedal("P1", at=(20, 20)), b.pedal("P2")])
        all_placed = make_board(cast.shop, 2, name="Other")
        browser = cast.browser("editor")
        wanted = [browser.get(self.url(one)).context["form"]["wanted"].value() for one in (some, all_placed)]
        assert wanted == ["finish", "all"]

    def test_pinned_pedals_are_not_asked_whether_they_stay(self, cast: Cast) -> None:
        board = make_board(cast.shop, [b.pedal("P1", at=(20, 20), pinned=True), b.pedal("P2", at=(200, 20))])
        form = cast.browser("editor").get(self.url(board)).context["form"]
        assert [ref for ref, _ in form.fields["staying"].choices] == ["P2"]

    def test_nothing_is_searched_by_looking(self, cast: Cast, board: Board) -> None:
        cast.browser("editor").get(self.url(board))
        assert not board.searches.exists()

    def test_what_is_impossible_is_said_before_anything_is_started(self, cast: Cast) -> None:
        board = make_board(cast.shop, [b.pedal("P1", width=950, depth=420), b.pedal("P2")])
        reasons = find_impossible(plan_of(board), Wishes())
        text = unescape(cast.browser("editor").get(self.url(board)).text)
        assert reasons
        assert [reason for reason in reasons if reason not in text] == []
        assert "Search all the same" in text
        assert "Start the search" not in text

    def test_without_pedals_it_leads_to_the_order_page(self, cast: Cast) -> None:
        board = make_board(cast.shop, 0, supplies=(), sources=(), amps=(), links=())
        text = cast.browser("editor").get(self.url(board)).text
        assert "No pedal on this board yet" in text
        assert "Start the search" not in text

    def test_the_last_searches_are_listed(self, cast: Cast, board: Board) -> None:
        search = answered(board, PLACING)
        text = cast.browser("viewer").get(self.url(board)).text
        assert f"/layout/searches/{search.pk}" in text

    @pytest.mark.parametrize("role", ["editor", "viewer"])
    def test_only_who_may_change_the_board_starts_one(self, cast: Cast, board: Board, role: str) -> None:
        text = cast.browser(role).get(self.url(board)).text
        assert ("Start the search" in text) == (role == "editor")
