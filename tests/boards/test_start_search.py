import json
from datetime import timedelta
from html import unescape
from typing import Any, ClassVar

import pytest
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.searching.running import run_search
from boardshop.core.boardfile import dump_plan
from boardshop.core.placing import Wishes
from tests.board_factories import make_board, plan_of
from tests.boards.searches import ask, found
from tests.core import builders as b
from tests.factories import Cast, make_frame_model

pytestmark = pytest.mark.django_db
TYPED: dict[str, Any] = {"edit": 0, "wanted": "all", "seconds": "5"}


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop)


@pytest.fixture
def browser(cast: Cast) -> Browser:
    return cast.browser("editor")


def post(browser: Browser, board: Board, **typed: Any) -> HttpResponse:
    return browser.post(reverse("start-search", args=[board.code]), TYPED | typed)


def test_it_leads_to_the_page_of_the_search(browser: Browser, board: Board) -> None:
    answer = post(browser, board)
    search = LayoutSearch.objects.get()
    assert (answer.status_code, answer.url) == (303, reverse("show-search", args=[board.code, search.pk]))


def test_what_is_asked_is_kept_with_the_board_as_it_was(cast: Cast, browser: Browser, board: Board) -> None:
    post(browser, board, seconds="20", seed="7", staying=["P2"], reserve_width="60", reserve_depth="12 cm")
    search = LayoutSearch.objects.get()
    asked = {"seconds": 20, "seed": 7, "staying": ["P2"], "reserved": [[60, 120]]}
    assert (search.wishes, search.person, search.state) == (asked, cast.editor, "waiting")
    assert json.loads(search.file) == dump_plan(plan_of(board))


def test_nothing_on_the_board_is_changed(browser: Browser, board: Board) -> None:
    before = dump_plan(plan_of(board))
    post(browser, board)
    run_search(LayoutSearch.objects.get().pk)
    assert (dump_plan(plan_of(board)), Board.objects.get().edit_number) == (before, 0)


def test_the_same_search_twice_finds_the_same(cast: Cast) -> None:
    one, other = (found(make_board(cast.shop, 5, name=name)) for name in ("One", "Other"))
    assert one.answers == other.answers


def test_a_pedal_that_stays_stays(cast: Cast) -> None:
    board = make_board(cast.shop, 3)
    search = found(board, wishes=Wishes(seconds=1, staying=("P2",)))
    place = plan_of(board).pedals[1].place
    assert [dict(_places(search))["P2"]] == [[place.x, place.y, place.turn]]


def test_finishing_places_only_what_has_no_place(cast: Cast) -> None:
    standing, waiting = b.pedal("P1", at=(20, 20)), b.pedal("P2")
    search = found(make_board(cast.shop, [standing, waiting]), "finish")
    places = dict(_places(search))
    assert (places["P1"], sorted(places)) == ([20, 20, 0], ["P1", "P2"])


def _places(search: LayoutSearch) -> list[tuple[str, list[int]]]:
    return [(ref, place) for ref, *place in search.answers["placings"][0]["placing"]["places"]]


def test_a_stranger_gets_404_and_a_viewer_403(cast: Cast, board: Board) -> None:
    assert post(cast.browser("stranger"), board).status_code == 404
    assert post(cast.browser("viewer"), board).status_code == 403
    assert not LayoutSearch.objects.exists()


def test_a_wrong_method_is_refused(browser: Browser, board: Board) -> None:
    assert browser.get(reverse("start-search", args=[board.code])).status_code == 405


def refused(browser: Browser, board: Board, **typed: Any) -> str:
    answer = post(browser, board, **typed)
    assert answer.status_code == 422
    return unescape(answer.text)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"wanted": "room"}, "Choose the pedal to make room for."),
        ({"wanted": "room", "room_for": "P9"}, "P9"),
        ({"wanted": "finish"}, "Every pedal of Nightjar main has a place"),
        ({"wanted": "magic"}, "magic"),
        ({"seconds": "6"}, "6"),
        ({"reserve_width": "60"}, "needs both width and depth"),
        ({"reserve_depth": "60"}, "needs both width and depth"),
        ({"reserve_width": "0", "reserve_depth": "60"}, "A size must be above zero"),
        ({"reserve_width": "wide", "reserve_depth": "60"}, "“wide” is no length"),
        ({"seed": "10000"}, "9999"),
        ({"staying": ["P9"]}, "P9"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_words(
    browser: Browser, board: Board, typed: dict[str, Any], said: str
) -> None:
    assert said in refused(browser, board, **typed)
    assert not LayoutSearch.objects.exists()


def test_a_board_without_pedals_has_nothing_to_place(cast: Cast, browser: Browser) -> None:
    bare = make_board(cast.shop, 0, supplies=(), sources=(), amps=(), links=())
    assert "has no pedal yet" in refused(browser, bare)


def test_a_pedal_wider_than_the_frame_is_told_at_once(cast: Cast, browser: Browser) -> None:
    wide = b.pedal("P1", width=950, depth=420)
    board = make_board(cast.shop, [wide, b.pedal("P2")])
    text = refused(browser, board)
    assert "Not everything can be placed" in text
    assert "P1" in text
    assert 'name="anyway"' in text


def test_asked_for_anyway_the_others_are_placed(cast: Cast, browser: Browser) -> None:
    board = make_board(cast.shop, [b.pedal("P1", width=950, depth=420), b.pedal("P2")])
    assert post(browser, board, anyway="on").status_code == 303
    search = LayoutSearch.objects.get()
    run_search(search.pk)
    search.refresh_from_db()
    assert search.answers["placings"][0]["placing"]["left_out"] == ["P1"]


def test_forty_pedals_on_a_small_frame_are_answered_quickly(cast: Cast, browser: Browser) -> None:
    """In words or with a search, but at once: the request itself searches nothing."""
    board = make_board(cast.shop, [b.pedal(f"P{n}") for n in range(1, 41)], frame=b.frame(500, 300))
    assert post(browser, board).status_code in (303, 422)


def test_one_search_of_a_board_at_a_time(browser: Browser, board: Board) -> None:
    post(browser, board)
    assert "is under way already" in refused(browser, board)
    assert LayoutSearch.objects.count() == 1


def test_one_that_died_does_not_bar_the_next(browser: Browser, board: Board) -> None:
    dead = ask(board)
    LayoutSearch.objects.filter(pk=dead.pk).update(seen_at=timezone.now() - timedelta(seconds=61))
    assert post(browser, board).status_code == 303
    dead.refresh_from_db()
    assert (dead.state, dead.finished_at is not None) == ("failed", True)


def test_more_than_eight_do_not_wait(cast: Cast, browser: Browser, board: Board) -> None:
    for number in range(8):
        ask(make_board(cast.shop, 1, name=f"Other {number}"))
    assert "8 searches wait for their turn already" in refused(browser, board)


def test_the_last_twenty_of_a_board_are_kept(board: Board) -> None:
    first = ask(board)
    for _ in range(20):
        LayoutSearch.objects.filter(state="waiting").update(state="failed", finished_at=first.asked_at)
        last = ask(board)
    kept = list(LayoutSearch.objects.values_list("pk", flat=True))
    assert (len(kept), last.pk in kept, first.pk in kept) == (20, True, False)


def test_a_frame_is_sought_in_the_catalogue_as_it_is(cast: Cast, browser: Browser, board: Board) -> None:
    make_frame_model(cast.shop, name="Wide one", width=700)
    make_frame_model(cast.stranger.memberships.get().shop, name="Not ours")
    assert post(browser, board, wanted="frames").status_code == 303
    assert [one["name"] for one in LayoutSearch.objects.get().frames] == ["Wide one"]


def test_an_empty_catalogue_is_said_on_the_page_of_frames(browser: Browser, board: Board) -> None:
    text = refused(browser, board, wanted="frames")
    assert "The catalogue has no frame to try" in text
    assert "Which frame holds this set" in text


def test_its_process_is_started_once_it_is_stored(
    browser: Browser, board: Board, monkeypatch: Any, django_capture_on_commit_callbacks: Any
) -> None:
    started: list[int] = []
    monkeypatch.setattr("boardshop.boards.searching.processes.start_nothing", started.append)
    with django_capture_on_commit_callbacks(execute=True):
        post(browser, board)
    assert started == [LayoutSearch.objects.get().pk]


def test_a_process_that_cannot_be_started_is_told(
    browser: Browser, board: Board, monkeypatch: Any, django_capture_on_commit_callbacks: Any
) -> None:
    def fail(pk: int) -> None:
        raise OSError("no memory")

    monkeypatch.setattr("boardshop.boards.searching.processes.start_nothing", fail)
    with django_capture_on_commit_callbacks(execute=True):
        post(browser, board)
    assert LayoutSearch.objects.get().state == "failed"


class TestQueries:
    most: ClassVar[int] = 24

    def test_they_do_not_grow_with_the_board(
        self, cast: Cast, browser: Browser, django_assert_max_num_queries: Any
    ) -> None:
        for pedals in (1, 18):
            board = make_board(cast.shop, pedals)
            with django_assert_max_num_queries(self.most):
                post(browser, board)
