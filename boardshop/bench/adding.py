"""A cable that is made for a link of a board: what the form begins with, and where it leads afterwards."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest
from django.urls import reverse
from django.utils import timezone

from boardshop.bench.fits import as_new_cable, link_called
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


def asked_link(request: HttpRequest, shop: Shop) -> AskedLink | None:
    """The link that the address names; 404 for one that the person cannot see or that is not in this shop."""
    code, ref = request.GET.get("board", ""), request.GET.get("link", "")
    if not code and not ref:
        return None
    board = get_board_for(request.user, code)
    plan = load_plan(board)
    link = link_called(plan, ref)
    if link is None or board.shop_id != shop.pk:
        raise Http404
    return AskedLink(board, plan, link)


def first_values(request: HttpRequest, asked: AskedLink | None) -> dict[str, Any]:
    """Who makes it today, and what the link takes."""
    own = {"made_by": str(signed_in(request))[:80], "made_on": timezone.localdate(), "place": "bench"}
    return own | as_new_cable(asked.plan, asked.link) if asked else own | {"kind": "signal"}
