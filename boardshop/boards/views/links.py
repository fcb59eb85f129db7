"""Edits of links: connect, change, remove."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.boards.access import get_board_for
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.links import LinkForm
from boardshop.boards.pages.cables import CABLES, connect_form, link_form, link_key
from boardshop.boards.pages.link import KEY, link_page
from boardshop.boards.services import links as services
from boardshop.boards.views.rows import get_link


@require_POST
def connect_jacks(request: HttpRequest, code: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)

    def service(form: LinkForm) -> None:
        services.connect_jacks(board, form.seen, *form.ends(), **form.columns())

    return make_edit(request, board, CABLES, connect_form(board, request.POST), service, anchor="connect")


@require_http_methods(["GET", "POST"])
def change_link(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    """Its ends on a page of its own; everything else in its row on the cables page as well."""
    board = get_board_for(request.user, code, editing=True)
    link = get_link(board, ref)
    if request.method == "GET":
        return link_page(board, link).draw(request, board)
    is_row = "ends" not in request.POST
    form = link_form(board, link_key(link.ref) if is_row else KEY, request.POST)

    def service(form: LinkForm) -> None:
        services.change_link(board, form.seen, link, *form.ends(), **form.columns())

    page = CABLES if is_row else link_page(board, link)
    return make_edit(request, board, page, form, service, anchor=link_key(link.ref))


@require_POST
def remove_link(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    link = get_link(board, ref)
    form = EditForm(request.POST, key=f"remove-{link.ref}")
    return make_edit(request, board, CABLES, form, lambda form: services.remove_link(board, form.seen, link))
