"""Searches for tests: asked for as the page does, run in this process, without a clock to wait for."""

from typing import Any

from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.plan.read import load_plan
from boardshop.boards.searching.running import run_search
from boardshop.boards.services.searches import Asked, start_search
from boardshop.core.placing import Wishes

QUICK = Wishes(seconds=1)
"""The least work that can be asked for."""


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
