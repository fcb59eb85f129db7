"""Photos and files of a board and of what is on it."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for, may_change
from boardshop.boards.held_files import BoardHolder, files_of_part
from boardshop.boards.models import Board, Item, Link
from boardshop.boards.views.rows import get_supply
from boardshop.files.forms import UploadForm
from boardshop.files.receiving import take_files

PAGES_OF_PARTS = {"placement": "change-pedal", "supplyplacement": "supply-files"}
"""For each kind of thing that stands on a board, the page that shows its files."""


@require_safe
def supply_files(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    """What is kept of one supply, which has no other page of its own."""
    board = get_board_for(request.user, code)
    supply = get_supply(board, ref)
    here = reverse("supply-files", args=[board.code, supply.ref])
    files = files_of_part(board, supply.ref, back=here, editing=may_change(board))
    context = {"board": board, "shop": board.shop, "tab": "power", "supply": supply, "files": files}
    return render(request, "boards/supply_files.html", context)


@require_POST
def add_board_files(request: HttpRequest, code: str) -> HttpResponseBase:
    board = get_board_for(request.user, code, editing=True)
    ref, back = _part(board, request.POST.get("ref", "").strip())
    form = UploadForm(request.POST, request.FILES)
    return take_files(request, form, BoardHolder(board, ref), board.shop, back=back)


def _part(board: Board, written: str) -> tuple[str, str]:
    """The ref as the board writes it, and the page it is shown on; 404 for what is not on it."""
    if not written:
        return "", reverse("board", args=[board.code])
    link = Link.objects.filter(board=board, ref__iexact=written).first()
    if link is not None:
        return link.ref, reverse("change-link", args=[board.code, link.ref])
    item = Item.objects.filter(board=board, ref__iexact=written).select_related(*PAGES_OF_PARTS).first()
    if item is None:
        raise Http404
    page = PAGES_OF_PARTS.get(next((kind for kind in PAGES_OF_PARTS if hasattr(item, kind)), ""), "")
    if page:
        return item.ref, reverse(page, args=[board.code, item.ref])
    return item.ref, reverse("board", args=[board.code])
