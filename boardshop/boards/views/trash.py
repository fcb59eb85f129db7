"""The trash: what was deleted in the last 30 days, and putting it back."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board
from boardshop.boards.pages.trash import trash_sections
from boardshop.boards.services import trash as services
from boardshop.crew.access import get_shop_for, may_edit
from boardshop.crew.answers import back_of
from boardshop.crew.errors import Refusal
from boardshop.crew.trash import KEPT_DAYS


@require_safe
def trash(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user)
    sections = trash_sections(shop)
    context = {"sections": sections, "shop": shop, "days": KEPT_DAYS}
    return render(request, "boards/trash.html", context | {"may_edit": may_edit(request.user, shop)})


@require_POST
def restore_board(request: HttpRequest, code: str) -> HttpResponse:
    """The whole board as it was when it was deleted."""
    board = get_board_for(request.user, code, editing=True, with_trash=True)
    try:
        left_out = services.restore_board(board)
    except Refusal as refusal:
        return _refused(request, board.name, refusal)
    said = _("%(board)s is back with everything on it.") % {"board": board.name}
    if left_out:
        without = ngettext("a made cable that it had", "%(n)d made cables that it had", len(left_out))
        words = {"board": board.name, "without": without % {"n": len(left_out)}}
        said = _("%(board)s is back without %(without)s.") % words
    for one in left_out:
        messages.warning(request, one)
    return _told(request, board, said, [], reverse("change-board", args=[code]), _("Delete it again"))


@require_POST
def restore_pedal(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """The pedals that the edit of this number took off, with the links and feeds that still fit."""
    board = get_board_for(request.user, code, editing=True)
    change = board.changes.filter(number=number).first() if number < 2**31 else None
    if change is None:
        raise Http404
    try:
        left_out = services.restore_pedal(board, change)
    except Refusal as refusal:
        return _refused(request, ", ".join(change.removed) or board.name, refusal)
    names = {"pedals": ", ".join(change.removed), "board": board.name}
    said = _("%(pedals)s: back on %(board)s.") % names
    return _told(request, board, said, left_out, reverse("changes", args=[code]), _("Undo it there"))


def _told(
    request: HttpRequest, board: Board, said: str, left_out: list[str], to: str, words: str
) -> HttpResponse:
    """To where the button stood, else to the board, with a notice that leads to the opposite, and what did
    not fit any more.
    """
    messages.success(request, format_html('{} <a href="{}">{}</a>', said, to, words))
    for one in left_out:
        messages.warning(request, _("Left out: %(what)s") % {"what": one})
    return redirect(back_of(request, reverse("board", args=[board.code])))


def _refused(request: HttpRequest, name: str, refusal: Refusal) -> HttpResponse:
    return render(request, "boards/not_put_back.html", {"name": name, "refusal": str(refusal)}, status=422)
