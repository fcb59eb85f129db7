"""Searches for a layout: asked for, looked at, stopped, taken."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for, may_change
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.searches import StartSearchForm, TakeLayoutForm
from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.pages.page import PageState
from boardshop.boards.pages.place_for_me import PLACE_FOR_ME, WHICH_FRAME
from boardshop.boards.pages.search import TAKE, describe_progress, search_page
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services import searches as services
from boardshop.boards.views.rows import get_search
from boardshop.crew.answers import wants_part
from boardshop.crew.errors import Refusal
from boardshop.gear.templatetags.lengths import lengths_in


@require_safe
def place_for_me(request: HttpRequest, code: str) -> HttpResponse:
    return PLACE_FOR_ME.draw(request, get_board_for(request.user, code))


@require_safe
def which_frame(request: HttpRequest, code: str) -> HttpResponse:
    return WHICH_FRAME.draw(request, get_board_for(request.user, code))


@require_POST
def start_search(request: HttpRequest, code: str) -> HttpResponse:
    """Set a search going and lead to its page; the form of either page may ask for it."""
    board = get_board_for(request.user, code, editing=True)
    plan, unit = load_plan(board), board.shop.length_unit
    is_frames = request.POST.get("wanted") == LayoutSearch.Wanted.FRAMES
    form = StartSearchForm(request.POST, plan=plan, unit=unit, is_frames=is_frames)
    if form.is_valid():
        try:
            search = services.start_search(board, plan, form.asked())
            return HttpResponseRedirect(_address(board, search.pk), status=303)
        except Refusal as refusal:
            field = refusal.field if refusal.field in form.fields else None
            form.add_error(field, lengths_in(str(refusal), unit))
    page = WHICH_FRAME if is_frames else PLACE_FOR_ME
    return page.draw(request, board, PageState({form.key: form}), 422)


@require_safe
def show_search(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    board = get_board_for(request.user, code)
    return search_page(get_search(board, pk)).draw(request, board)


@require_safe
def watch_search(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """How far a search is, for its page that asks again and again; once it has ended, the page anew."""
    board = get_board_for(request.user, code)
    search = get_search(board, pk)
    address = _address(board, pk)
    if not wants_part(request):
        return HttpResponseRedirect(address)
    context = describe_progress(board, search)
    if not context["is_live"]:
        return HttpResponse(status=204, headers={"HX-Redirect": address})
    context |= {"board": board, "shop": board.shop, "may_edit": may_change(board)}
    return render(request, "boards/show_search.html#progress", context)


@require_POST
def stop_search(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """Ask it to end; its page then shows the best that it had found."""
    board = get_board_for(request.user, code, editing=True)
    services.stop_search(get_search(board, pk))
    return HttpResponseRedirect(_address(board, pk), status=303)


@require_POST
def take_layout(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """Put the pedals where one of the answers has them."""
    board = get_board_for(request.user, code, editing=True)
    search = get_search(board, pk)
    form = TakeLayoutForm(request.POST, key=TAKE)

    def service(form: TakeLayoutForm) -> None:
        services.take_answer(board, form.seen, search, form.cleaned_data["answer"])

    return make_edit(request, board, search_page(search), form, service)


def _address(board: Board, pk: int) -> str:
    return reverse("show-search", args=[board.code, pk])
