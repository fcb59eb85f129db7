"""Searches for tests: asked for as the page does, run in this process, without a clock to wait for."""

from threading import Thread
from typing import Any

from django.db import connection
from django.utils import timezone

from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.plan.read import load_plan
from boardshop.boards.searching.running import run_search
from boardshop.boards.searching.stored import Answer, Answers, Cure, write_answers
from boardshop.boards.services.searches import Asked, start_search
from boardshop.core.placing import Placing, Wishes
from boardshop.core.plan import Place

QUICK = Wishes(seconds=1)
"""The least work that can be asked for."""


PLACING = Placing(
    places=(("P1", Place(100, 20)), ("P2", Place(300, 20, 90))),
    left_out=(),
    why="",
    score=1034,
    total_mm=250,
    optimal=False,
    bound=1000,
)
"""Made up, so that each figure is known."""


def ask(board: Board, wanted: str = "all", **values: Any) -> LayoutSearch:
    """A search that waits for its turn."""
    board = Board.objects.get(pk=board.pk)
    values = {"wishes": QUICK} | values
    return start_search(board, load_plan(board), Asked(wanted, **values))


def found(board: Board, wanted: str = "all", **values: Any) -> LayoutSearch:
    """A search that has ended."""
    search = ask(board, wanted, **values)
    run_search(search.pk)
    search.refresh_from_db()
    return search


def answered(board: Board, *placings: Placing, cures: tuple[Cure, ...] = (), **columns: Any) -> LayoutSearch:
    """A search that ended with these answers."""
    search = ask(board)
    answers = write_answers(Answers(tuple(Answer(one) for one in placings), cures))
    ended = {"state": "done", "finished_at": timezone.now(), "answers": answers}
    LayoutSearch.objects.filter(pk=search.pk).update(**(ended | columns))
    search.refresh_from_db()
    return search


def start_in_thread(pk: int) -> None:
    """For SEARCH_STARTER where a browser watches: beside the server, but in this process."""

    def run() -> None:
        try:
            run_search(pk)
        finally:
            connection.close()

    Thread(target=run).start()
