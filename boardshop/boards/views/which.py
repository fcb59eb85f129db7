"""Which supply of the catalogue suits a board."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from boardshop.boards.access import get_board_for
from boardshop.boards.forms.which import MainsForm
from boardshop.boards.pages.which import which_page


@require_safe
def which_supply(request: HttpRequest, code: str) -> HttpResponse:
    """The best few for the mains that the form asks for; a wrong one is answered with its error."""
    board = get_board_for(request.user, code)
    form = MainsForm(request.GET) if "mains" in request.GET else None
    status = 422 if form is not None and not form.is_valid() else 200
    return which_page(form).draw(request, board, status=status)
