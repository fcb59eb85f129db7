"""Edits of a board as a whole: its name and limits, its frame, its end."""

from __future__ import annotations

from dataclasses import replace

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.boards.access import get_board_for
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.whole import BoardForm, BoardFrameForm, SchoolForm
from boardshop.boards.pages.order import ORDER
from boardshop.boards.pages.whole import REMOVE_KEY, board_form, frame_form, frame_of, whole_page
from boardshop.boards.services import boards as services
from boardshop.boards.services.trash import trash_board
from boardshop.crew.notices import tell_trashed
from boardshop.gear.checks import check_frame


@require_http_methods(["GET", "POST"])
def change_board(request: HttpRequest, code: str) -> HttpResponse:
    """Name, client, note, limits and venue; the frame's form stands on the same page."""
    board = get_board_for(request.user, code, editing=True)
    page = whole_page(board)
    if request.method == "GET":
        return page.draw(request, board)

    def service(form: BoardForm) -> None:
        services.change_board(board, form.seen, **form.columns())

    return make_edit(request, board, page, board_form(board, request.POST), service)


@require_POST
def change_frame(request: HttpRequest, code: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)

    def service(form: BoardFrameForm) -> None:
        record = form.record(board.name)
        check_frame(record)
        services.change_frame(board, form.seen, frame_of(record), board.frame.model)

    return make_edit(request, board, whole_page(board), frame_form(board, request.POST), service)


@require_POST
def follow_school(request: HttpRequest, code: str) -> HttpResponse:
    """Judge the order by another school; nothing moves."""
    board = get_board_for(request.user, code, editing=True)
    form = SchoolForm(request.POST, key="school")

    def service(form: SchoolForm) -> None:
        services.follow_school(board, form.seen, form.cleaned_data["school"])

    return make_edit(request, board, ORDER, form, service, anchor="schools")


@require_POST
def remove_board(request: HttpRequest, code: str) -> HttpResponse:
    """Into the trash with everything on it; the gear stays in the shop."""
    board = get_board_for(request.user, code, editing=True)
    form = EditForm(request.POST, key=REMOVE_KEY)

    def service(form: EditForm) -> None:
        trash_board(board, form.seen)
        said = _("%(board)s is in the trash for 30 days; its gear is free for other boards.")
        said %= {"board": board.name}
        tell_trashed(request, said, reverse("restore-board", args=[code]))

    page = replace(whole_page(board), back=reverse("boards"))
    return make_edit(request, board, page, form, service)
