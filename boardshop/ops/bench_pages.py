"""Pages and edits of the largest demo board beside a trivial signed-in page of the same process."""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import count

from django.conf import settings
from django.core.management import call_command
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext, override_settings
from django.urls import include, path, reverse

from boardshop.boards.models import Board
from boardshop.crew.models import Shop
from boardshop.ops import postgres
from boardshop.ops.demo.load import load_demo

type Measure = Callable[[Callable[[], object]], float]

PAGES = ("board", "order", "layout", "cables", "cut-list", "power", "grounds", "stage-board")


def trivial(request: HttpRequest) -> HttpResponse:
    """What a page costs before it does anything: session, person, one query."""
    return HttpResponse(str(Shop.objects.filter(people=request.user.pk).count()))


urlpatterns = [path("trivial", trivial, name="trivial"), path("", include("boardshop.urls"))]


def bench_pages(measure: Measure) -> None:
    """Prints ms, queries and the ratio to the trivial page; in a database of its own that goes afterwards."""
    with _database(), override_settings(ROOT_URLCONF=__name__):
        browser = Client(headers={"host": "localhost"})
        account = load_demo()
        browser.login(username=account.username, password=account.password)
        board = Board.objects.get(name="Tallow left")
        base = measure(lambda: browser.get(reverse("trivial")))
        print(f"pages, 18 pedals, one process: {'ms':>21}{'queries':>9}{'ratio':>8}")
        _print("trivial signed-in page", base, _queries(lambda: browser.get(reverse("trivial"))), base)
        for name in PAGES:
            work = _get(browser, name, board)
            _print(f"page {name}", measure(work), _queries(work), base)
        edit = _place(browser, board)
        _print("edit: a pedal moved, fragment", measure(edit), _queries(edit), base)
        board = Board.objects.get(pk=board.pk)
        tried = _try_drag(browser, board)
        _print("drag: what would be, fragment", measure(tried), _queries(tried), base)
        released = _release_drag(browser, board)
        _print("drag: two pedals let go, fragment", measure(released), _queries(released), base)
        move = _move(browser, Board.objects.get(pk=board.pk))
        _print("edit: one place later, order", measure(move), _queries(move), base)
        print("  (aims for an edit: ratio 15 or less, under 60 ms; for a drag's fragments: 100 ms or less)")


def _print(name: str, ms: float, queries: int, base: float) -> None:
    print(f"  {name:32}{ms:17.1f}{queries:9}{ms / base:8.1f}")


def _get(browser: Client, name: str, board: Board) -> Callable[[], object]:
    address = reverse(name, args=[board.code])

    def work() -> object:
        answer = browser.get(address)
        assert answer.status_code == 200, answer.status_code
        return answer

    return work


def _place(browser: Client, board: Board) -> Callable[[], object]:
    """Moves P5 by some millimetres, each time from the state that the last answer showed.

    Never to where it has been before, since what is kept of a plan would answer then.
    """
    address = reverse("place-pedal", args=[board.code, "P5"])
    seen = count(board.edit_number)

    def work() -> object:
        number = next(seen)
        typed = {"edit": number, "x": 470 + number % 7, "y": 14 + number // 7, "turn": 0}
        answer = browser.post(address, typed, headers={"HX-Request": "true"})
        assert answer.status_code == 200, answer.text[:400]
        return answer

    return work


def _try_drag(browser: Client, board: Board) -> Callable[[], object]:
    """P5 held over other places, each time one where it has not been before."""
    address = reverse("try-places", args=[board.code])
    seen = count()

    def work() -> object:
        number = next(seen)
        place = f"P5={480 + number % 7},{16 + number // 7},0"
        answer = browser.get(address, {"place": place}, headers={"HX-Request": "true"})
        assert answer.status_code == 200, answer.text[:400]
        return answer

    return work


def _release_drag(browser: Client, board: Board) -> Callable[[], object]:
    """P5 and P6 let go together at ever new places."""
    address = reverse("place-bodies", args=[board.code])
    seen = count(board.edit_number)

    def work() -> object:
        number = next(seen)
        places = [
            f"P5={490 + number % 7},{20 + number // 7},0",
            f"P6={380 + number % 7},{20 + number // 7},0",
        ]
        typed = {"edit": number, "place": places, "open": "P5 P6"}
        answer = browser.post(address, typed, headers={"HX-Request": "true"})
        assert answer.status_code == 200, answer.text[:400]
        return answer

    return work


def _move(browser: Client, board: Board) -> Callable[[], object]:
    """Moves P13 along the line and back, as `_place` does over the frame; every answer is the order page."""
    address = reverse("move-pedal", args=[board.code, "P13"])
    seen = count(board.edit_number)

    def work() -> object:
        number = next(seen)
        typed = {"edit": number, "line": 0, "position": 1 + (11 * number) % 18}
        answer = browser.post(address, typed, headers={"HX-Request": "true"})
        assert answer.status_code == 200, answer.text[:400]
        return answer

    return work


def _queries(work: Callable[[], object]) -> int:
    with CaptureQueriesContext(connection) as captured:
        work()
    return len(captured)


@contextmanager
def _database() -> Iterator[None]:
    """A migrated database beside the one of `make run`, dropped at the end."""
    starts_server = not os.environ.get("BOARDSHOP_DATABASE_URL")
    starts_server = starts_server and not postgres.is_running(settings.DATA_DIR, "run")
    if starts_server:
        postgres.start(settings.DATA_DIR, "run")
    call_command("collectstatic", interactive=False, verbosity=0)
    name = connection.creation.create_test_db(verbosity=0)
    try:
        yield
    finally:
        connection.creation.destroy_test_db(name, verbosity=0)
        connection.close()
        if starts_server:
            postgres.stop(settings.DATA_DIR, "run")
