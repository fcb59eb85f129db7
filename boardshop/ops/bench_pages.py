"""Pages of the largest demo board beside a trivial signed-in page of the same process."""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager

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
from boardshop.ops.bench_edits import bench_edits
from boardshop.ops.demo.load import load_demo
from boardshop.ops.memory import keep_what_is_loaded

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
        keep_what_is_loaded()
        base = measure(lambda: browser.get(reverse("trivial")))
        print(f"pages, 18 pedals, one process: {'ms':>21}{'queries':>9}{'ratio':>8}")
        _print("trivial signed-in page", base, _queries(lambda: browser.get(reverse("trivial"))), base)
        for name in PAGES:
            work = _get(browser, name, board)
            _print(f"page {name}", measure(work), _queries(work), base)
        bench_edits(browser, board)


def _print(name: str, ms: float, queries: int, base: float) -> None:
    print(f"  {name:32}{ms:17.1f}{queries:9}{ms / base:8.1f}")


def _get(browser: Client, name: str, board: Board) -> Callable[[], object]:
    address = reverse(name, args=[board.code])

    def work() -> object:
        answer = browser.get(address)
        assert answer.status_code == 200, answer.status_code
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
