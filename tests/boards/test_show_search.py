import re
from dataclasses import replace
from datetime import timedelta
from html import unescape
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.searching.choosing import list_choices
from boardshop.boards.searching.stored import Cure
from boardshop.core.layout import compute_layout
from boardshop.core.layout.geometry import Box
from boardshop.core.placing import Placing, Wishes
from boardshop.core.plan import Place
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.boards.searches import PLACING, answered, ask, found
from tests.core import builders as b
from tests.factories import Cast, make_frame_model


def url_of(search: LayoutSearch) -> str:
    return reverse("show-search", args=[search.board.code, search.pk])


class TestShowSearch(PageContract):
    name = "show-search"

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return make_board(cast.shop)

    def url(self, board: Board) -> str:
        return url_of(board.searches.first() or found(board))

    @pytest.mark.parametrize("pedals", [1, 18])
    def test_its_queries_do_not_grow_with_the_board(
        self, cast: Cast, pedals: int, django_assert_max_num_queries: Any
    ) -> None:
        url, browser = self.url(make_board(cast.shop, pedals)), cast.browser("editor")
        with django_assert_max_num_queries(self.most_queries):
            browser.get(url)

    def test_an_empty_board_is_no_crash(self, cast: Cast) -> None:
        """All its pedals were taken off after the search."""
        board = make_board(cast.shop, 1)
        url = self.url(board)
        board.items.all().delete()
        assert "No longer on the board" in cast.browser("editor").get(url).text

    def test_a_search_of_another_board_is_404(self, cast: Cast, board: Board) -> None:
        other = make_board(cast.shop, name="Other")
        url = self.url(other).replace(other.code, board.code)
        assert cast.browser("editor").get(url).status_code == 404

    def test_up_to_three_layouts_stand_beside_the_present_one(self, cast: Cast, board: Board) -> None:
        page = cast.browser("viewer").get(self.url(board))
        offers = page.context["offers"]
        assert 1 <= len(offers) <= 3
        assert page.text.count('class="board-drawing"') == len(offers) + 1

    def test_no_layout_that_is_found_brings_a_fault_of_places(self, cast: Cast, board: Board) -> None:
        """Judged by the layout section, which knows nothing of the search."""
        choices = list_choices(LayoutSearch.objects.get(pk=found(board).pk))
        for choice in choices:
            plan = choice.lay_out(plan_of(board))
            assert [one for one in compute_layout(plan).findings if one.severity == "fault"] == []

    def test_the_figures_are_those_of_the_placing(self, cast: Cast, board: Board) -> None:
        """Score 1034 = 4 x 250 + 34, by calculation; 34 above 1000 is 3.4 %."""
        text = cast.browser("viewer").get(url_of(answered(board, PLACING))).text
        assert "cable between plugs 250 mm, reach 34" in text
        assert "Best found, at most 3.4 % above what is possible." in text

    def test_the_present_layout_is_scored_by_the_same_rule(self, cast: Cast) -> None:
        """A search whose pedals all stay finds what there is, so both scores are one."""
        board = make_board(cast.shop, [b.pedal("P1", at=(300, 20)), b.pedal("P2", at=(100, 20))])
        search = found(board, wishes=Wishes(seconds=1, staying=("P1", "P2")))
        page = cast.browser("viewer").get(url_of(search))
        placing = page.context["offers"][0].choice.placing
        now = page.context["now_score"]
        assert (now["score"], now["total_mm"], now["unplaced"]) == (placing.score, placing.total_mm, 0)

    @pytest.mark.parametrize(
        ("changed", "said"),
        [
            ({"optimal": True, "bound": 1034}, "no layout has a lower score."),
            ({"bound": 0}, "how much better one could be is not known"),
            ({"bound": 1033}, "at most 0.1 % above"),
            ({"bound": 518}, "at most 99.7 % above"),
            ({"bound": 517}, "proved is only that no layout scores below 517"),
        ],
    )
    def test_what_is_proved_is_said_and_no_more(
        self, cast: Cast, board: Board, changed: dict[str, Any], said: str
    ) -> None:
        text = cast.browser("viewer").get(url_of(answered(board, replace(PLACING, **changed)))).text
        assert said in text

    def test_who_is_left_out_is_named_with_the_reason_and_nothing_is_proved(
        self, cast: Cast, board: Board
    ) -> None:
        left = Placing((("P1", Place(0, 0)),), ("P2",), "not found in this time: P2.", 10, 2, True, 10)
        text = cast.browser("viewer").get(url_of(answered(board, left))).text
        assert "Left out: Pedal 2 (P2)." in text
        assert "Not found in this time: P2." in text
        assert "Proved:" not in text

    def test_a_cure_is_drawn_with_its_sentence(self, cast: Cast, board: Board) -> None:
        cure = Cure("turn", "P2", "P2 turned by 90 degrees lets all fit.", PLACING)
        left = Placing((("P1", Place(0, 0)),), ("P2",), "not found in this time: P2.", 10, 2, False, 0)
        page = cast.browser("editor").get(url_of(answered(board, left, cures=(cure,))))
        assert "P2 turned by 90 degrees lets all fit." in page.text
        assert [offer.choice.key for offer in page.context["cures"]] == ["c1"]

    def test_another_plug_is_left_to_the_page_of_cables(self, cast: Cast, board: Board) -> None:
        cure = Cure("plug", "J1", "A flat plug at P2 lets all fit.", PLACING)
        text = cast.browser("editor").get(url_of(answered(board, PLACING, cures=(cure,)))).text
        assert 'name="answer" value="c1"' not in text
        assert "Choose the other plug on the page of cables" in text

    def test_findings_are_counted_with_each_layout(self, cast: Cast, board: Board) -> None:
        """Two bodies on one spot are a fault, by the rule of gaps."""
        stacked = Placing((("P1", Place(20, 20)), ("P2", Place(20, 20))), (), "", 1, 0, False, 0)
        page = cast.browser("viewer").get(url_of(answered(board, stacked)))
        assert page.context["offers"][0].counts["fault"] > page.context["sheet"].counts["fault"]

    def test_what_is_laid_out_so_already_is_not_offered(self, cast: Cast, board: Board) -> None:
        places = tuple((pedal.ref, pedal.place) for pedal in plan_of(board).pedals)
        text = (
            cast.browser("editor").get(url_of(answered(board, Placing(places, (), "", 1, 0, False, 0)))).text
        )
        assert "The board is laid out so now." in text
        assert 'name="answer"' not in text

    def test_a_board_that_changed_says_what_is_new_and_what_is_gone(self, cast: Cast, board: Board) -> None:
        search = answered(board, PLACING)
        board.items.filter(ref="P2").update(ref="P7")
        text = unescape(cast.browser("editor").get(url_of(search)).text)
        assert "The board was changed since this search began." in text
        assert "No longer on the board, so of no account: Pedal 2 (P2)." in text
        assert "they stay as they are: Pedal 2 (P7)." in text
        assert "Take it all the same" in text

    def test_one_that_is_under_way_shows_how_far_it_is(self, cast: Cast, board: Board) -> None:
        search = ask(board)
        LayoutSearch.objects.filter(pk=search.pk).update(state="running", percent=42)
        text = cast.browser("editor").get(url_of(search)).text
        assert 'value="42"' in text
        assert '<noscript><meta http-equiv="refresh"' in text
        assert "Stop, and show the best so far" in text

    def test_one_that_waits_says_how_many_come_first(self, cast: Cast, board: Board) -> None:
        ask(make_board(cast.shop, name="Other"))
        assert "Waits: 1 search comes before it." in cast.browser("viewer").get(url_of(ask(board))).text

    def test_one_whose_process_died_says_so(self, cast: Cast, board: Board) -> None:
        search = ask(board)
        silent = timezone.now() - timedelta(seconds=61)
        LayoutSearch.objects.filter(pk=search.pk).update(state="running", seen_at=silent)
        text = cast.browser("editor").get(url_of(search)).text
        assert "It stopped without an answer; start it again." in text
        assert "http-equiv" not in text

    def test_frames_are_named_with_their_sizes(self, cast: Cast) -> None:
        make_frame_model(cast.shop, name="Wide one", width=700, depth=400)
        search = found(make_board(cast.shop, 2), "frames")
        text = cast.browser("viewer").get(url_of(search)).text
        assert "Wide one" in text
        assert "700 mm × 400 mm" in text

    def test_what_holds_the_set_on_no_frame_is_no_proof(self, cast: Cast) -> None:
        make_frame_model(cast.shop, width=60, depth=60)
        text = cast.browser("viewer").get(url_of(found(make_board(cast.shop, 2), "frames"))).text
        assert "No frame of the catalogue was found to hold the whole set." in text

    def test_it_can_be_asked_for_again_as_it_was_or_from_another_start(
        self, cast: Cast, board: Board
    ) -> None:
        wishes = Wishes(seconds=20, seed=7, staying=("P2",), reserved=((60, 120),))
        first = found(board, wishes=wishes)
        text = cast.browser("editor").get(url_of(first)).text
        form = text[text.index('name="wanted"') : text.index("From another start")]
        typed = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
        assert typed.pop("seed") == "8"
        cast.browser("editor").post(reverse("start-search", args=[board.code]), {"edit": 0, **typed})
        assert board.searches.first().wishes | {"seed": 7} == first.wishes

    def test_the_room_that_was_asked_for_is_on_the_drawing_alone(self, cast: Cast, board: Board) -> None:
        room = replace(PLACING, reserved=(Box(500, 20, 600, 150),))
        page = cast.browser("viewer").get(url_of(answered(board, room, PLACING)))
        with_room, without = page.context["offers"]
        assert "a later pedal" in with_room.drawing
        assert with_room.free_percent == without.free_percent

    def test_lengths_are_in_the_unit_of_the_shop(self, cast: Cast, board: Board) -> None:
        """250 mm are 9.84 in (1 in = 25.4 mm by definition)."""
        type(cast.shop).objects.update(length_unit="in")
        assert (
            "cable between plugs 9.84 in" in cast.browser("viewer").get(url_of(answered(board, PLACING))).text
        )

    def test_a_supply_on_the_board_stays_where_it_is(self, cast: Cast) -> None:
        board = make_board(cast.shop, 1, supplies=(b.supply("S1", b.outlet("1"), model="Ridge 1"),))
        choice = list_choices(found(board))[0]
        assert choice.lay_out(plan_of(board)).supplies == plan_of(board).supplies
