"""Photos and files of a board and of what is on it."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from boardshop.boards.access import get_board_for
from boardshop.boards.held_files import BoardHolder
from boardshop.boards.models import Board, Item, Link
from boardshop.files.forms import UploadForm
from boardshop.files.receiving import take_files


@require_POST
def add_board_files(request: HttpRequest, code: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    ref, back = _part(board, request.POST.get("ref", "").strip())
    form = UploadForm(request.POST, request.FILES)
    of = f"{board.name}, {ref}" if ref else board.name
    return take_files(request, form, BoardHolder(board, ref), board.shop, of=of, back=back)


def _part(board: Board, written: str) -> tuple[str, str]:
    """The ref as the board writes it, and the page it is shown on; 404 for what is not on it."""
    if not written:
        return "", reverse("board", args=[board.code])
    link = Link.objects.filter(board=board, ref__iexact=written).first()
    if link is not None:
        return link.ref, reverse("change-link", args=[board.code, link.ref])
    item = Item.objects.filter(board=board, ref__iexact=written).select_related("placement").first()
    if item is None:
        raise Http404
    if hasattr(item, "placement"):
        return item.ref, reverse("change-pedal", args=[board.code, item.ref])
    return item.ref, reverse("board", args=[board.code])
