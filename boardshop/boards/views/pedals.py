"""Edits of pedals: put on, played how, which one, where, taken off."""

from __future__ import annotations

import re

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.boards.access import get_board_for
from boardshop.boards.catalogue import catalogue_of
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.order import MoveForm, WireForm
from boardshop.boards.forms.pedals import AddPedalForm, PedalForm, PlaceForm, PlayForm
from boardshop.boards.pages.layout import LAYOUT
from boardshop.boards.pages.order import ORDER, move_key, play_key, wire_key
from boardshop.boards.pages.pedal import fresh_pedal, pedal_page
from boardshop.boards.services import order as order_services
from boardshop.boards.services import pedals as services
from boardshop.boards.views.places import anchor_of, place_form_key
from boardshop.boards.views.rows import get_pedal
from boardshop.crew.notices import tell_trashed


@require_POST
def add_pedal(request: HttpRequest, code: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    catalogue = catalogue_of(board)
    form = AddPedalForm(request.POST, key="add-pedal", gear=catalogue.pedal_choices())

    def service(form: AddPedalForm) -> None:
        model, unit = catalogue.pedals[form.cleaned_data["gear"]]
        services.add_pedal(board, form.seen, model, unit, ref=form.cleaned_data["ref"])

    return make_edit(request, board, ORDER, form, service, anchor="add-pedal")


@require_POST
def play_pedal(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    pedal = get_pedal(board, ref)
    form = PlayForm(request.POST, key=play_key(pedal.ref))

    def service(form: PlayForm) -> None:
        services.play_pedal(board, form.seen, pedal, **form.typed())

    return make_edit(request, board, ORDER, form, service, anchor=form.key)


@require_http_methods(["GET", "POST"])
def change_pedal(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    """Everything about one pedal, on a page of its own."""
    board = get_board_for(request.user, code, editing=True)
    pedal = get_pedal(board, ref)
    page = pedal_page(board, pedal)
    if request.method == "GET":
        return page.draw(request, board)
    form = fresh_pedal(board, pedal, request.POST)

    def service(form: PedalForm) -> None:
        services.change_pedal(board, form.seen, pedal, **form.columns())

    return make_edit(request, board, page, form, service, anchor=play_key(pedal.ref))


@require_POST
def remove_pedal(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    pedal = get_pedal(board, ref)
    form = EditForm(request.POST, key=f"remove-{pedal.ref}")

    def service(form: EditForm) -> None:
        services.remove_pedal(board, form.seen, pedal)
        said = _("%(pedal)s is taken off and in the trash for 30 days.") % {"pedal": pedal.ref}
        tell_trashed(request, said, reverse("restore-pedal", args=[code, board.edit_number]))

    return make_edit(request, board, ORDER, form, service)


@require_POST
def place_pedal(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    pedal = get_pedal(board, ref)
    form = PlaceForm(request.POST, key=place_form_key(request, pedal.ref), unit=board.shop.length_unit)

    def service(form: PlaceForm) -> None:
        services.place_pedal(board, form.seen, pedal, **form.typed())

    return make_edit(request, board, LAYOUT, form, service, opened=pedal.ref, anchor=anchor_of(form))


@require_POST
def move_pedal(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    """Earlier or later in a line; the links follow."""
    board = get_board_for(request.user, code, editing=True)
    pedal = get_pedal(board, ref)
    form = MoveForm(request.POST, key=move_key(pedal.ref))

    def service(form: MoveForm) -> None:
        order_services.move_in_line(board, form.seen, form.cleaned_data["line"], pedal.ref, form.goal)

    return make_edit(request, board, ORDER, form, service, opened=pedal.ref, anchor=play_key(pedal.ref))


@require_POST
def wire_line(request: HttpRequest, code: str) -> HttpResponse:
    """Wire the pedals of a line in the sequence that was written."""
    board = get_board_for(request.user, code, editing=True)
    line = request.POST.get("line", "")
    form = WireForm(request.POST, key=wire_key(int(line) if re.fullmatch(r"[0-9]{1,2}", line) else 0))

    def service(form: WireForm) -> None:
        order_services.wire_line(board, form.seen, form.cleaned_data["line"], form.ref_list())

    return make_edit(request, board, ORDER, form, service, anchor=form.key)
