"""Which supply of the catalogue suits a board."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from boardshop.boards.access import get_board_for, may_change
from boardshop.boards.forms.which import MainsForm
from boardshop.boards.pages.which import build_which, fresh_mains_form
from boardshop.boards.sheet import BoardSheet


@require_safe
def which_supply(request: HttpRequest, code: str) -> HttpResponse:
    """The best few for the mains that the form asks for; a wrong one is answered with its error."""
    board = get_board_for(request.user, code)
    sheet = BoardSheet(board)
    form = MainsForm(request.GET) if "mains" in request.GET else fresh_mains_form(sheet.plan)
    context = build_which(sheet, form)
    context |= {
        "board": board,
        "shop": board.shop,
        "tab": "power",
        "page": "which-supply",
        "may_edit": may_change(board),
    }
    status = 422 if form.is_bound and not form.is_valid() else 200
    return render(request, "boards/which_supply.html", context, status=status)
