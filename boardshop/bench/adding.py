"""A cable that is made for a link, or of a booked piece: what the form begins with, where it leads then."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.html import format_html
from django.utils.translation import gettext as _

from boardshop.bench.fits import as_new_cable, link_called
from boardshop.bench.models import CutPiece
from boardshop.bench.services.cut_jobs import register_piece
from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.core.plan import BoardPlan, Link
from boardshop.crew.access import signed_in
from boardshop.crew.models import Shop
from boardshop.gear.models import MadeCable
from boardshop.gear.records import MadeCableRecord
from boardshop.gear.services.made_cables import add_made_cable


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
    """The booked piece that the address names; 404 for one of another shop or of a job taken back."""
    key = request.GET.get("piece", "")
    if not key:
        return None
    pieces = CutPiece.objects.select_related("of__job", "board", "made")
    pieces = pieces.filter(of__job__shop=shop, of__job__taken_back_at=None)
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
        is_there = piece.board is not None and piece.board.trashed_at is None
        code, ref = piece.board.code if piece.board and is_there else "", piece.ref
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


def register(shop: Shop, record: MadeCableRecord, piece: CutPiece | None) -> MadeCable:
    return add_made_cable(shop, record) if piece is None else register_piece(piece, record)


def page_of_piece(piece: CutPiece) -> str:
    """The piece's row in the page of its job."""
    return f"{reverse('cut-job', args=[piece.of.job_id])}#piece-{piece.pk}"


def page_after(cable: MadeCable, asked: AskedLink | None, piece: CutPiece | None) -> str:
    """Back to the job, which has more pieces; else to where the cable is put on its link; else to its own."""
    if piece is not None:
        return page_of_piece(piece)
    return asked.spares if asked else reverse("show-made-cable", args=[cable.code])


def page_to_leave(asked: AskedLink | None, piece: CutPiece | None) -> str:
    """Where the form leads that is not sent."""
    if piece is not None:
        return page_of_piece(piece)
    return asked.spares if asked else reverse("made-cables")


def tell_added(request: HttpRequest, cable: MadeCable, asked: AskedLink | None) -> None:
    said = _("Cable %(id)s is in the register; write its id on both ends, then test it.") % {"id": cable}
    if asked:
        where = _("Put it on %(ref)s of %(board)s") % {"ref": asked.link.ref, "board": asked.board.name}
        said = format_html('{} <a href="{}">{}</a>', said, asked.spares, where)
    messages.success(request, said)


def tell_made_already(request: HttpRequest, piece: CutPiece) -> HttpResponse:
    """To the job with the piece, whose cable is in the register."""
    words = {"piece": piece, "id": piece.made}
    messages.info(request, _("%(piece)s is in the register already, as cable %(id)s.") % words)
    return redirect(page_of_piece(piece))


def first_values(request: HttpRequest, asked: AskedLink | None, piece: CutPiece | None) -> dict[str, Any]:
    """Who makes it today, what the link takes, and what the piece was cut from."""
    values = {"made_by": str(signed_in(request))[:80], "made_on": timezone.localdate(), "place": "bench"}
    values |= as_new_cable(asked.plan, asked.link) if asked else {"kind": "signal"}
    if piece is not None:
        values |= {"length": piece.cut_mm, "cable": piece.of.cable_name, "reel": piece.of.tag}
        values |= {"plug_a": piece.plug_from, "plug_b": piece.plug_to}
    return values
