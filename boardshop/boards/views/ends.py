"""Edits of what stands around the pedals: instruments, amps, computers."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.boards.access import get_board_for
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.ends import AmpForm, ComputerForm, SourceForm
from boardshop.boards.models import Amp, Computer, Source
from boardshop.boards.pages.end import end_page, fresh_end
from boardshop.boards.pages.order import ORDER
from boardshop.boards.services import ends as services
from boardshop.boards.views.rows import get_end


@require_POST
def add_source(request: HttpRequest, code: str) -> HttpResponse:
    return _add(request, code, Source, SourceForm(request.POST, key="add-source"))


@require_POST
def add_amp(request: HttpRequest, code: str) -> HttpResponse:
    return _add(request, code, Amp, AmpForm(request.POST, key="add-amp"))


@require_POST
def add_computer(request: HttpRequest, code: str) -> HttpResponse:
    return _add(request, code, Computer, ComputerForm(request.POST, key="add-computer"))


@require_http_methods(["GET", "POST"])
def change_end(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    """Everything about one instrument, amp or computer, on a page of its own."""
    board = get_board_for(request.user, code, editing=True)
    end = get_end(board, ref)
    page = end_page(board, end)
    if request.method == "GET":
        return page.draw(request, board)

    def service(form: EditForm) -> None:
        services.change_end(board, form.seen, end, **form.typed())

    return make_edit(request, board, page, fresh_end(end, request.POST), service, anchor=f"end-{end.ref}")


@require_POST
def remove_end(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    end = get_end(board, ref)
    form = EditForm(request.POST, key=f"remove-{end.ref}")
    return make_edit(request, board, ORDER, form, lambda form: services.remove_end(board, form.seen, end))


def _add(request: HttpRequest, code: str, kind: Any, form: EditForm) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)

    def service(form: EditForm) -> None:
        services.add_end(board, form.seen, kind, **form.typed())

    return make_edit(request, board, ORDER, form, service, anchor="ends")
