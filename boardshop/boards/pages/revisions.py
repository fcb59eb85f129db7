"""The page of a board's revisions: what is on stage, how the working copy differs, the next release."""

from __future__ import annotations

from typing import Any

from django.core.paginator import Paginator
from django.urls import reverse

from boardshop.boards.access import may_change
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.revisions import ReleaseForm
from boardshop.boards.models import Board
from boardshop.boards.pages.page import FormPage
from boardshop.boards.pages.standing import compare_with_released
from boardshop.boards.services.history import next_steps
from boardshop.boards.services.revisions import asking, blocking
from boardshop.boards.sheet import BoardSheet

RELEASE_KEY = "release"


REVISIONS_ON_A_PAGE = 50


def revisions_page(board: Board, number: str | None = None) -> FormPage:
    """With the revisions, newest first, and the form that releases the next one.

    `number` is the page of the list, as an address writes it; the first one for what is none.
    """
    revisions = Paginator(board.revisions.defer("file", "report", "state"), REVISIONS_ON_A_PAGE)
    sheet, may_edit = BoardSheet(board), may_change(board)
    context: dict[str, Any] = {
        "sheet": sheet,
        "may_edit": may_edit,
        "steps": next_steps(board) if may_edit else None,
        "standing": compare_with_released(sheet),
        "revisions": revisions.get_page(number),
        "blocking": blocking(sheet.findings),
        "asking": asking(sheet.findings),
        "page": "revisions",
    }
    return FormPage(
        template="boards/revisions.html",
        back=reverse("revisions", args=[board.code]),
        tab="history",
        context=context,
        forms={RELEASE_KEY: lambda: release_form(board, sheet)},
    )


def release_form(board: Board, sheet: BoardSheet, data: Any = None) -> EditForm:
    return ReleaseForm(data, key=RELEASE_KEY, asks_why=bool(asking(sheet.findings)))
