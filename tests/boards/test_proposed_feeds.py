import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.core.feeds import propose_feeds
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.core.feeding_cases import drawing
from tests.factories import Cast


def overloaded(cast: Cast) -> Board:
    """P1 takes 180 % of S1.1, P2 little of the larger S1.2."""
    pedals = [b.draws(drawing(180, "P1"), share="never"), b.draws(drawing(4, "P2"), share="poor")]
    supply = b.supply("S1", b.outlet("1"), b.outlet("2", max_ma=300))
    feeds = [b.feed("S1.1", "P1.DC", 9000), b.feed("S1.2", "P2.DC", 9000)]
    return make_board(cast.shop, pedals, supplies=(supply,), feeds=feeds)


class TestProposedFeeds(PageContract):
    name = "proposed-feeds"

    def test_the_changes_are_the_cores(self, cast: Cast) -> None:
        board = overloaded(cast)
        page = cast.browser("editor").get(self.url(board))
        assert page.context["proposal"].feeds == propose_feeds(plan_of(board), 2.0).feeds
        assert "(P1.DC) from S1.1 to S1.2: 180.0 % to 60.0 %" in page.text

    def test_what_is_proved_is_said(self, cast: Cast) -> None:
        text = cast.browser("viewer").get(self.url(overloaded(cast))).text
        assert "Proved:" in text
        assert "Make all 2 changes" not in text

    def test_now_and_then_stand_side_by_side(self, cast: Cast) -> None:
        pairs = cast.browser("viewer").get(self.url(overloaded(cast))).context["pairs"]
        assert [(p.ref, p.now.load_percent, p.then.load_percent) for p in pairs] == [
            ("S1.1", 180.0, 4.0),
            ("S1.2", 1.3, 60.0),
        ]

    def test_a_board_that_is_fed_best_has_nothing_to_change(self, cast: Cast) -> None:
        board = make_board(cast.shop, 1)
        text = cast.browser("editor").get(self.url(board)).text
        assert "nothing to change" in text

    def test_who_cannot_be_fed_is_told_with_the_smallest_cure(self, cast: Cast) -> None:
        board = make_board(cast.shop, [drawing(190, "P1")], feeds=())
        text = cast.browser("editor").get(self.url(board)).text
        assert "the most that a fitting outlet gives is 100 mA" in text
        assert "at 100 mA or less it can be fed" in text
        assert "for at least 190 mA, 238 mA with headroom" in text

    def test_what_is_not_recorded_is_asked_for(self, cast: Cast) -> None:
        board = make_board(cast.shop, [b.draws(b.pedal("P1"), polarity=None)], feeds=())
        text = cast.browser("editor").get(self.url(board)).text
        assert "its plug polarity is not recorded" in text

    def test_a_pinned_feed_is_named_as_one_that_stays(self, cast: Cast) -> None:
        board = make_board(cast.shop, 1, feeds=(b.feed("S1.2", "P1.DC", 9000, pinned=True),))
        assert "1 pinned feed stays as it is." in cast.browser("editor").get(self.url(board)).text

    def test_nothing_is_called_safe(self, cast: Cast) -> None:
        text = cast.browser("editor").get(self.url(overloaded(cast))).text
        assert "Plug over with the supply off" in text
        assert ">safe" not in text.lower()


@pytest.mark.django_db
def test_following_the_proposal_leaves_nothing_to_change(cast: Cast) -> None:
    board = overloaded(cast)
    browser: Browser = cast.browser("editor")
    address = f"/boards/{board.code}/power/proposed"
    plugs = [row.plug for row in browser.get(address).context["rows"]]
    answer = browser.post(f"{address}/take", {"edit": 0, "plug": plugs}, follow=True)
    assert answer.redirect_chain[-1][0].startswith(address)
    assert answer.context["rows"] == []
