"""Where a made cable goes: onto a link, off it, and which spares a link could have."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from boardshop.bench.fits import link_called, list_spares
from boardshop.bench.forms.made_cables import board_choices
from boardshop.bench.forms.put_cable import PutCableForm
from boardshop.bench.putting import chosen_board, put_page
from boardshop.boards.access import get_board_for, may_change
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.models import Board
from boardshop.boards.pages.cables import CABLES, link_key
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.made_cables import link_of, put_cable
from boardshop.boards.services.made_cables import take_cable_off as take_off
from boardshop.boards.views.rows import get_link
from boardshop.gear.access import get_made_cable_for


@require_http_methods(["GET", "POST"])
def put_cable_on_board(request: HttpRequest, code: str) -> HttpResponse:
    """First the board is chosen, then the link; a link that is posted takes the cable."""
    cable = get_made_cable_for(request.user, code, editing=True)
    board = chosen_board(request, cable)
    if board is None:
        boards, is_posted = board_choices(cable.shop), request.method == "POST"
        context = {"cable": cable, "boards": boards, "is_posted": is_posted}
        return render(request, "bench/put_cable_on_board.html", context, status=422 if is_posted else 200)
    page = put_page(board, cable)
    if request.method == "GET":
        return page.draw(request, board)
    form = PutCableForm(request.POST)
    anchor = link_key(request.POST.get("link", ""))

    def service(form: PutCableForm) -> None:
        link = get_link(board, form.cleaned_data["link"])
        put_cable(board, form.seen, link, cable, anyway=form.cleaned_data["anyway"])

    return make_edit(request, board, page, form, service, anchor=anchor)


@require_POST
def take_cable_off(request: HttpRequest, code: str) -> HttpResponse:
    cable = get_made_cable_for(request.user, code, editing=True)
    link = link_of(cable)
    if link is None:
        messages.info(request, _("Cable %(id)s is on no board any more.") % {"id": cable})
        return redirect("show-made-cable", cable.code)
    board = get_board_for(request.user, link.board.code, editing=True)
    form = EditForm(request.POST, key=f"off-{cable.code}")
    return make_edit(
        request, board, CABLES, form, lambda form: take_off(board, form.seen, link, cable),
        anchor=link_key(link.ref),
    )  # fmt: skip


@require_safe
def spares_for_link(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    board: Board = get_board_for(request.user, code)
    plan = load_plan(board)
    link = link_called(plan, ref)
    if link is None:
        raise Http404
    spares = list_spares(board, plan, link.ref, timezone.localdate())
    context = {"board": board, "shop": board.shop, "tab": "cables", "link": link, "spares": spares}
    context["may_edit"] = may_change(board)
    return render(request, "bench/spares_for_link.html", context)
