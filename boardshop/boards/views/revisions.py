"""Revisions: released, looked at, downloaded, brought back."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for, get_revision
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.revisions import ReleaseForm
from boardshop.boards.models import Board, Revision
from boardshop.boards.pages.revision import show
from boardshop.boards.pages.revisions import RELEASE_KEY, revisions_page
from boardshop.boards.services import revisions as services
from boardshop.crew.audit import record_export


@require_safe
def revisions(request: HttpRequest, code: str) -> HttpResponse:
    """The released states of the board, newest first, and the form that releases the next."""
    board = get_board_for(request.user, code)
    return revisions_page(board, request.GET.get("page")).draw(request, board)


@require_POST
def release_revision(request: HttpRequest, code: str) -> HttpResponse:
    """Freeze the working copy as the next revision."""
    board = get_board_for(request.user, code, editing=True)
    page = revisions_page(board)
    form = ReleaseForm(request.POST, key=RELEASE_KEY, asks_why=bool(page.context["asking"]))

    def service(form: ReleaseForm) -> None:
        revision = services.release_revision(board, form.seen, **form.typed())
        said = _("Revision %(number)d is released: the stage page shows it from now on.")
        messages.success(request, said % {"number": revision.number})

    return make_edit(request, board, page, form, service)


@require_safe
def show_revision(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """One revision as it was released."""
    board = get_board_for(request.user, code)
    return show(request, board, get_revision(board, number))


@require_safe
def revision_file(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """Its board file, letter by letter as it was frozen."""
    board = get_board_for(request.user, code)
    revision = get_revision(board, number)
    return _download(request, board, revision, revision.file, "")


@require_safe
def revision_report(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """What the checks and sums said of it on the day of its release."""
    board = get_board_for(request.user, code)
    revision = get_revision(board, number)
    return _download(request, board, revision, revision.report, "-report")


@require_POST
def restore_revision(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """Make the working copy what this revision was."""
    board = get_board_for(request.user, code, editing=True)
    revision = get_revision(board, number)
    form = EditForm(request.POST, key="restore")

    def service(form: EditForm) -> None:
        services.restore_revision(board, form.seen, revision)
        said = _(
            "The working copy is as revision %(number)d was, but for the board's name and client, which "
            "stay. Undo takes that back."
        )
        messages.success(request, said % {"number": number})

    return make_edit(request, board, revisions_page(board), form, service)


def _download(request: HttpRequest, board: Board, revision: Revision, text: str, kind: str) -> HttpResponse:
    answer = HttpResponse(text, content_type="application/json; charset=utf-8")
    name = f"{slugify(board.name) or 'board'}-{board.code}-revision-{revision.number}{kind}.json"
    record_export(request, board.shop, name)
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
