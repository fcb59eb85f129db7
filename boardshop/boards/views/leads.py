"""DC leads of a board: what is needed, what is at hand, and recording the one on the other."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.leads import TakeLeadsForm
from boardshop.boards.pages.leads import LEADS
from boardshop.boards.services import leads as services


@require_safe
def leads(request: HttpRequest, code: str) -> HttpResponse:
    return LEADS.draw(request, get_board_for(request.user, code))


@require_POST
def take_leads(request: HttpRequest, code: str) -> HttpResponse:
    """Record leads that are at hand on the feeds that they were chosen for."""
    board = get_board_for(request.user, code, editing=True)
    form = TakeLeadsForm(request.POST, key="take-leads")

    def service(form: TakeLeadsForm) -> None:
        services.take_leads(board, form.seen, form.cleaned_data["take"])

    return make_edit(request, board, LEADS, form, service, anchor="feeds")
