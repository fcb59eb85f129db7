from dataclasses import replace
from typing import Any, ClassVar

import pytest
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board, Placement, SupplyPlacement
from boardshop.boards.searching.stored import Cure, write_placing
from boardshop.core.boardfile import dump_plan
from boardshop.core.plan import BoardPlan, Place
from tests.board_factories import make_board, plan_of
from tests.boards.contract import HTMX, RefusesWrongInput
from tests.boards.searches import PLACING, answered, ask, found
from tests.core import builders as b
from tests.factories import Cast, make_frame_model


def places_of(board: Board) -> dict[str, Place | None]:
    return {pedal.ref: pedal.place for pedal in plan_of(board).pedals}


class TestTakeLayout(RefusesWrongInput):
    """A search with one made-up answer stands on every board."""

    name = "take-layout"
    page = "layout"
    typed: ClassVar = {"answer": "1"}
    wrong: ClassVar = {"answer": "3"}
    said = "This search has no such answer"

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        board = make_board(cast.shop)
        answered(board, PLACING)
        return board

    def url(self, board: Board, args: tuple[str, ...] | None = None) -> str:
        search = board.searches.first() or answered(board, PLACING)
        return reverse(self.name, args=[board.code, search.pk])

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        """Makes the search before the queries are counted."""
        places = tuple((f"P{n}", Place(7 * n, 3 * n)) for n in range(1, pedals + 1))
        answered(board, replace(PLACING, places=places))
        return {}

    def test_its_queries_do_not_grow_with_the_board(
        self, cast: Cast, browser: Browser, django_assert_max_num_queries: Any
    ) -> None:
        """Without scripts, as the page sends it."""
        for pedals in self.sizes:
            board = make_board(cast.shop, pedals)
            typed = {"edit": 0, "answer": "1", **self.typed_for(board, pedals)}
            url = self.url(board)
            with django_assert_max_num_queries(self.most_queries):
                answer = browser.post(url, typed)
            assert answer.status_code == 303

    def test_with_scripts_the_answer_is_what_stands_in_the_page(self, browser: Browser, board: Board) -> None:
        """Its buttons are plain forms; one that asks for a part gets that of the search's own page."""
        answer = self.post(browser, board, headers=HTMX)
        assert (answer.status_code, 'id="edit-number" value="1"' in answer.text) == (200, True)

    def test_the_pedals_lie_as_the_answer_has_them(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert places_of(board) == {"P1": Place(100, 20), "P2": Place(300, 20, 90)}

    def test_one_undo_puts_all_back(self, browser: Browser, board: Board) -> None:
        before = plan_of(board)
        self.post(browser, board)
        browser.post(reverse("undo-change", args=[board.code]), {"edit": 1, "page": "layout"})
        assert plan_of(board) == before

    def test_the_history_names_who_moved(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        first, *others = board.changes.get().sentences
        assert first == "A layout was taken, and 2 things moved with it."
        assert ("Pedal 1 (P1)" in " ".join(others), "Pedal 2 (P2)" in " ".join(others)) == (True, True)

    def test_what_undo_offers_to_take_back_is_the_layout(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        page = browser.get(reverse("layout", args=[board.code])).text
        assert "A layout was taken, and 2 things moved with it. (and 2 more)" in " ".join(page.split())

    def test_taken_twice_it_is_one_edit(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        self.post(browser, board)
        assert Board.objects.get(pk=board.pk).edit_number == 1

    def test_who_is_left_out_comes_off_the_frame(self, cast: Cast, browser: Browser) -> None:
        board = make_board(cast.shop)
        answered(board, replace(PLACING, places=PLACING.places[:1], left_out=("P2",)))
        self.post(browser, board)
        assert places_of(board) == {"P1": Place(100, 20), "P2": None}

    def test_who_was_pinned_meanwhile_stays(self, browser: Browser, board: Board) -> None:
        Placement.objects.filter(board=board, ref="P2").update(pinned=True)
        before = places_of(board)["P2"]
        self.post(browser, board)
        assert places_of(board) == {"P1": Place(100, 20), "P2": before}

    def test_who_is_new_stays_and_who_is_gone_is_no_matter(self, browser: Browser, board: Board) -> None:
        board.items.filter(ref="P2").update(ref="P7")
        before = places_of(board)["P7"]
        assert self.post(browser, board).status_code == 303
        assert places_of(board) == {"P1": Place(100, 20), "P7": before}

    def test_after_a_late_one_the_same_can_be_taken_again(self, browser: Browser, board: Board) -> None:
        """The answer says what was done meanwhile, and sends the same again on what stands there now."""
        move = {"edit": 0, "x": "31", "y": "12", "turn": "0"}
        browser.post(reverse("place-pedal", args=[board.code, "P1"]), move)
        late = self.post(browser, board, {"edit": 0})
        assert late.status_code == 409
        assert "Pedal 1 (P1)" in late.text
        assert "Make my change again" in late.text
        again = dict(late.context["state"].again.fields)
        self.post(browser, board, again)
        assert places_of(board)["P1"] == Place(100, 20)

    @pytest.mark.parametrize("key", ["0", "2", "c1", "best", "x", "", "1\n"])
    def test_what_the_search_did_not_find_is_refused(self, browser: Browser, board: Board, key: str) -> None:
        before = dump_plan(plan_of(board))
        assert self.post(browser, board, {"answer": key}).status_code == 422
        assert dump_plan(plan_of(board)) == before

    def test_an_answer_of_another_board_is_404(self, cast: Cast, browser: Browser, board: Board) -> None:
        other = make_board(cast.shop, name="Other")
        url = self.url(other).replace(other.code, board.code)
        assert browser.post(url, {"edit": 0, "answer": "1"}).status_code == 404


def take(browser: Browser, board: Board, answer: str) -> HttpResponse:
    edit = Board.objects.get(pk=board.pk).edit_number
    url = reverse("take-layout", args=[board.code, board.searches.first().pk])
    return browser.post(url, {"edit": edit, "answer": answer})


@pytest.mark.django_db
class TestCures:
    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return make_board(cast.shop)

    @pytest.fixture
    def browser(self, cast: Cast) -> Browser:
        return cast.browser("editor")

    def pedal(self, board: Board) -> Any:
        return plan_of(board).pedals[1]

    def test_a_turn_that_helps_is_allowed_from_then_on(self, browser: Browser, board: Board) -> None:
        answered(board, PLACING, cures=(Cure("turn", "P2", "P2 turned.", PLACING),))
        assert take(browser, board, "c1").status_code == 303
        assert (self.pedal(board).place.turn, self.pedal(board).turns) == (90, (0, 90))

    def test_a_layout_allows_no_further_turn(self, browser: Browser, board: Board) -> None:
        answered(board, PLACING)
        take(browser, board, "1")
        assert self.pedal(board).turns == (0,)

    def test_a_pedal_left_out_comes_off_and_the_others_are_placed(
        self, browser: Browser, board: Board
    ) -> None:
        without = replace(PLACING, places=PLACING.places[:1], left_out=("P2",))
        answered(board, PLACING, cures=(Cure("leave out", "P2", "Without P2.", without),))
        take(browser, board, "c1")
        assert places_of(board) == {"P1": Place(100, 20), "P2": None}

    def test_another_plug_is_not_taken_here(self, browser: Browser, board: Board) -> None:
        answered(board, PLACING, cures=(Cure("plug", "J1", "Flat plugs.", PLACING),))
        assert take(browser, board, "c1").status_code == 422

    def test_the_best_of_one_that_died_can_be_taken(self, browser: Browser, board: Board) -> None:
        answered(board, state="failed", best=write_placing(PLACING))
        take(browser, board, "best")
        assert places_of(board)["P1"] == Place(100, 20)


@pytest.mark.django_db
class TestRoom:
    """P1 stands, P2 and P3 have no place; room is made for P2, pinned or not."""

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        pedals = [b.pedal("P1", at=(20, 20)), b.pedal("P2", pinned=True), b.pedal("P3")]
        board = make_board(cast.shop, pedals)
        found(board, "room", ref="P2")
        return board

    def test_it_gets_a_place_and_nobody_else_does(self, cast: Cast, board: Board) -> None:
        take(cast.browser("editor"), board, "1")
        places = places_of(board)
        assert places["P1"] == Place(20, 20)
        assert (places["P2"] is not None, places["P3"]) == (True, None)

    def test_nobody_else_counts_as_left_out(self, cast: Cast, board: Board) -> None:
        text = (
            cast.browser("editor").get(f"/boards/{board.code}/layout/searches/{board.searches.get().pk}").text
        )
        assert "Left out:" not in text
        assert "That it is the least is not proved." in text


@pytest.mark.django_db
class TestFrames:
    @pytest.fixture
    def browser(self, cast: Cast) -> Browser:
        return cast.browser("editor")

    def found_on(self, cast: Cast, **frame: Any) -> Board:
        make_frame_model(cast.shop, **({"name": "Wide one", "width": 700, "depth": 400, "lid": 90} | frame))
        board = make_board(cast.shop)
        found(board, "frames")
        return board

    def test_the_board_is_put_on_the_frame_with_the_layout(self, cast: Cast, browser: Browser) -> None:
        board = self.found_on(cast)
        take(browser, board, "1")
        plan: BoardPlan = plan_of(board)
        stored = board.searches.get().answers["placings"][0]["placing"]["places"]
        assert (plan.frame.width, plan.frame.depth, plan.frame.lid) == (700, 400, 90)
        assert Board.objects.get(pk=board.pk).frame.model.name == "Wide one"
        assert [[p.ref, p.place.x, p.place.y, p.place.turn] for p in plan.pedals if p.place] == stored

    def test_one_undo_puts_frame_and_pedals_back(self, cast: Cast, browser: Browser) -> None:
        board = self.found_on(cast)
        before = plan_of(board)
        take(browser, board, "1")
        browser.post(reverse("undo-change", args=[board.code]), {"edit": 1, "page": "layout"})
        assert plan_of(board) == before

    def test_a_pin_and_a_supply_on_the_top_belong_to_the_former_frame(
        self, cast: Cast, browser: Browser
    ) -> None:
        make_frame_model(cast.shop, name="Wide one", width=700, depth=400)
        board = make_board(cast.shop)
        found(board, "frames")
        Placement.objects.filter(board=board, ref="P2").update(pinned=True, x=640, y=200)
        SupplyPlacement.objects.filter(board=board).update(x=500, y=100, under=False)
        take(browser, board, "1")
        plan = plan_of(board)
        stored = {
            ref: Place(*at) for ref, *at in board.searches.get().answers["placings"][0]["placing"]["places"]
        }
        assert plan.pedals[1].place == stored["P2"]
        assert plan.supplies[0].place is None

    def test_a_supply_under_the_frame_stays_there(self, cast: Cast, browser: Browser) -> None:
        board = self.found_on(cast)
        SupplyPlacement.objects.filter(board=board).update(x=500, y=100, under=True)
        take(browser, board, "1")
        place = plan_of(board).supplies[0].place
        assert place is not None
        assert (place.x, place.y, place.under) == (500, 100, True)

    def test_a_frame_that_left_the_catalogue_is_refused(self, cast: Cast, browser: Browser) -> None:
        board = self.found_on(cast)
        before = plan_of(board)
        cast.shop.frame_models.all().delete()
        answer = take(browser, board, "1")
        assert (answer.status_code, "no longer in the catalogue" in answer.text) == (422, True)
        assert plan_of(board) == before

    def test_the_best_so_far_of_an_unknown_frame_is_not_offered(self, cast: Cast, browser: Browser) -> None:
        make_frame_model(cast.shop)
        board = make_board(cast.shop)
        ask(board, "frames")
        board.searches.update(
            state="failed", finished_at=board.made_at, best=write_placing(PLACING), answers={}
        )
        assert take(browser, board, "best").status_code == 422
