"""Placing by hand: several things at once, the first free spot, and what would be."""

from __future__ import annotations

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for, may_change
from boardshop.boards.edits import make_edit, open_row
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.places import PlaceBodiesForm, PutOnBoardForm
from boardshop.boards.pages.layout import LAYOUT, place_key
from boardshop.boards.pages.page import PageState
from boardshop.boards.pages.selection import SELECTED, select
from boardshop.boards.pages.try_places import draw_try_places
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services import places as services
from boardshop.boards.services.free_spots import put_on_board as put_on_board_service
from boardshop.core.numbering import number_pedals
from boardshop.crew.answers import wants_part

ANCHOR = "selection"


def place_form_key(request: HttpRequest, ref: str) -> str:
    """Of the form of the chosen thing, or of the thing's row in the list of places."""
    return SELECTED if request.POST.get("by") == SELECTED else place_key(ref)


def anchor_of(form: EditForm) -> str:
    return ANCHOR if form.key == SELECTED else form.key


@require_POST
def place_bodies(request: HttpRequest, code: str) -> HttpResponse:
    """Pedals and supplies put down, moved, turned, pinned or taken off, all in one step of undo."""
    board = get_board_for(request.user, code, editing=True)
    form = PlaceBodiesForm(request.POST)

    def service(form: PlaceBodiesForm) -> None:
        services.place_bodies(board, form.seen, form.cleaned_data["place"])

    return make_edit(request, board, LAYOUT, form, service, opened=open_row(request), anchor=ANCHOR)


@require_POST
def put_on_board(request: HttpRequest, code: str) -> HttpResponse:
    """Something from the tray goes to the first free spot."""
    board = get_board_for(request.user, code, editing=True)
    form = PutOnBoardForm(request.POST, key="put-on-board")

    def service(form: PutOnBoardForm) -> None:
        put_on_board_service(board, form.seen, form.cleaned_data["ref"])

    opened = request.POST.get("ref", "")[:40]
    return make_edit(request, board, LAYOUT, form, service, opened=opened, anchor=ANCHOR)


@require_safe
def try_places(request: HttpRequest, code: str) -> HttpResponse:
    """What would be if these things lay there; nothing is changed."""
    board = get_board_for(request.user, code)
    return draw_try_places(request, board, request.GET.getlist("place"))


@require_safe
def show_selection(request: HttpRequest, code: str) -> HttpResponse:
    """What is chosen, alone; whoever does not ask with htmx is led to the layout page."""
    board = get_board_for(request.user, code)
    opened = request.GET.get("open", "")[:400]
    if not wants_part(request):
        query = urlencode({"open": opened})
        return HttpResponseRedirect(f"{reverse('layout', args=[code])}?{query}#{ANCHOR}")
    plan, state = load_plan(board), PageState(opened=opened)
    found = select(plan, number_pedals(plan), state, board.shop.length_unit, opened.split())
    context = {
        "board": board,
        "shop": board.shop,
        "state": state,
        "may_edit": may_change(board),
        "selection": found,
    }
    return render(request, "boards/layout_selection.html", context)
