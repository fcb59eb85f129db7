"""What was done to a board, and back and forth through one's own part of it."""

from __future__ import annotations

from dataclasses import replace

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for, may_change
from boardshop.boards.edits import make_edit, open_row
from boardshop.boards.forms.steps import StepForm, offering
from boardshop.boards.models import Board
from boardshop.boards.pages.page import FormPage, Page
from boardshop.boards.pages.revisions import revisions_page
from boardshop.boards.pages.variants import variants_page
from boardshop.boards.services import history as services
from boardshop.boards.views.pages import PAGES

CHANGES_ON_A_PAGE = 50


@require_safe
def changes(request: HttpRequest, code: str) -> HttpResponse:
    """Every change of the working copy, newest first: who, when, what."""
    board = get_board_for(request.user, code)
    found = Paginator(services.list_changes(board), CHANGES_ON_A_PAGE).get_page(request.GET.get("page"))
    may_edit = may_change(board)
    context = {
        "board": board,
        "shop": board.shop,
        "tab": "history",
        "page": "changes",
        "may_edit": may_edit,
        "steps": services.next_steps(board) if may_edit else None,
        "changes": found,
        "released": services.released_between(board, list(found)),
    }
    return render(request, "boards/changes.html", context)


@require_POST
def undo_change(request: HttpRequest, code: str) -> HttpResponse:
    """Take back one's own last change, or the next older one past an edit that could not be taken back."""
    board = get_board_for(request.user, code, editing=True)
    page = _page_of(request, board)
    form = StepForm(request.POST, key="undo")

    def service(form: StepForm) -> None:
        with offering(form, lambda past: services.find_undoable(board, past)):
            services.undo_change(board, form.seen, form.past)

    return make_edit(request, board, page, form, service, opened=open_row(request))


@require_POST
def redo_change(request: HttpRequest, code: str) -> HttpResponse:
    """Do again what one undid last, or the next one past an edit that could not be done again."""
    board = get_board_for(request.user, code, editing=True)
    page = _page_of(request, board)
    form = StepForm(request.POST, key="redo")

    def service(form: StepForm) -> None:
        with offering(form, lambda past: services.find_redoable(board, past)):
            services.redo_change(board, form.seen, form.past)

    return make_edit(request, board, page, form, service, opened=open_row(request))


def _page_of(request: HttpRequest, board: Board) -> Page | FormPage:
    """The page on which the button stood; a refusal on the list of changes is told beside the revisions."""
    name = request.POST.get("page", "")
    if name == "variants":
        return variants_page(board)
    if name in ("changes", "revisions"):
        return replace(revisions_page(board), back=reverse(name, args=[board.code]))
    return PAGES.get(name, PAGES["board"])
