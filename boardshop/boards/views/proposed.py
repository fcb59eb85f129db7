"""Proposed feeds: looked at, and taken whole or one by one."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.proposed import TakeFeedsForm
from boardshop.boards.pages.proposed import PROPOSED
from boardshop.boards.services import proposed as services


@require_safe
def proposed_feeds(request: HttpRequest, code: str) -> HttpResponse:
    return PROPOSED.draw(request, get_board_for(request.user, code))


@require_POST
def take_feeds(request: HttpRequest, code: str) -> HttpResponse:
    """Plug over the jacks of the proposal that the form names."""
    board = get_board_for(request.user, code, editing=True)
    form = TakeFeedsForm(request.POST)

    def service(form: TakeFeedsForm) -> None:
        services.take_feeds(board, form.seen, form.cleaned_data["plug"])

    return make_edit(request, board, PROPOSED, form, service)
