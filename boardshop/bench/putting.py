"""The page on which a made cable is put on a link of a chosen board."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.urls import reverse

from boardshop.bench.fits import list_places
from boardshop.bench.forms.put_cable import PutCableForm
from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board
from boardshop.boards.pages.page import FormPage, PageState
from boardshop.boards.plan.read import load_plan
from boardshop.gear.models import MadeCable


def chosen_board(request: HttpRequest, cable: MadeCable) -> Board | None:
    """The board that the form or the address names; 404 for one that the person may not see."""
    code = request.POST.get("board") or request.GET.get("board") or ""
    return get_board_for(request.user, code, editing=True) if code else None


def put_page(board: Board, cable: MadeCable) -> FormPage:
    def late(_state: PageState) -> dict[str, Any]:
        return {"places": list_places(load_plan(board), cable)}

    return FormPage(
        template="bench/put_cable_on_board.html",
        back=reverse("cables", args=[board.code]),
        tab="cables",
        context={"cable": cable},
        forms={"put": lambda: PutCableForm()},
        late=late,
    )
