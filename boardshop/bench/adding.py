"""A cable that is made for a link, or of a booked piece: what the form begins with, where it leads then."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest
from django.urls import reverse
from django.utils import timezone

from boardshop.bench.fits import as_new_cable, link_called
from boardshop.bench.models import CutPiece
from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.core.plan import BoardPlan, Link
from boardshop.crew.access import signed_in
from boardshop.crew.models import Shop


@dataclass(frozen=True)
class AskedLink:
    board: Board
    plan: BoardPlan
    link: Link

    @property
    def spares(self) -> str:
        """The page on which the new cable can be put on the link."""
        return reverse("spares-for-link", args=[self.board.code, self.link.ref])


def asked_piece(request: HttpRequest, shop: Shop) -> CutPiece | None:
    """The booked piece that the address names; 404 for one that is not of this shop."""
    key = request.GET.get("piece", "")
    if not key:
        return None
    pieces = CutPiece.objects.select_related("of", "board").filter(of__job__shop=shop)
    piece = pieces.filter(pk=int(key)).first() if key.isdecimal() and len(key) < 18 else None
    if piece is None:
        raise Http404
    return piece


def asked_link(request: HttpRequest, shop: Shop, piece: CutPiece | None = None) -> AskedLink | None:
    """The link that the address names; 404 for one that the person cannot see or that is not in this shop.

    Of a piece it is the link that the piece was cut for, if that is still there.
    """
    code, ref = request.GET.get("board", ""), request.GET.get("link", "")
    if piece is not None:
        code, ref = piece.board.code if piece.board else "", piece.ref
    if not code and (piece is not None or not ref):
        return None
    board = get_board_for(request.user, code)
    plan = load_plan(board)
    link = link_called(plan, ref)
    if link is None and piece is not None:
        return None
    if link is None or board.shop_id != shop.pk:
        raise Http404
    return AskedLink(board, plan, link)


def first_values(request: HttpRequest, asked: AskedLink | None, piece: CutPiece | None) -> dict[str, Any]:
    """Who makes it today, what the link takes, and what the piece was cut from."""
    values = {"made_by": str(signed_in(request))[:80], "made_on": timezone.localdate(), "place": "bench"}
    values |= as_new_cable(asked.plan, asked.link) if asked else {"kind": "signal"}
    if piece is not None:
        values |= {"length": piece.cut_mm, "cable": piece.of.cable_name, "reel": piece.of.tag}
        values |= {"plug_a": piece.plug_from, "plug_b": piece.plug_to}
    return values
