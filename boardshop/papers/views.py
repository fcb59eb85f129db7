"""Papers of a board, printed from the same numbers as its pages."""

from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from boardshop.boards.access import get_board_for, get_revision, last_released
from boardshop.boards.models import Board
from boardshop.boards.sheet import BoardSheet
from boardshop.papers.build_sheet import describe_build
from boardshop.papers.case_label import describe_case
from boardshop.papers.cut_sheet import describe_cuts
from boardshop.papers.first_power_sheet import describe_first_power
from boardshop.papers.pdf import PapersUnavailable, print_one_sheet, print_pdf

type Press = Callable[[str, dict[str, Any]], bytes]


@require_safe
def papers(request: HttpRequest, code: str) -> HttpResponse:
    """What can be printed of this board."""
    board = get_board_for(request.user, code)
    context = {
        "board": board,
        "shop": board.shop,
        "tab": "papers",
        "label_address": settings.PUBLIC_URL.origin,
        "is_label_local": settings.PUBLIC_URL.is_local,
        "released": last_released(board),
    }
    return render(request, "papers/papers.html", context)


@require_safe
def build_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """Everything a bench needs to build or mend the board."""
    board = get_board_for(request.user, code)
    described = describe_build(_sheet(request, board), request.user)
    return _answer(request, board, "build-sheet", print_pdf, described)


@require_safe
def case_label(request: HttpRequest, code: str) -> HttpResponse:
    """The label on the road case, with the code that opens the stage page."""
    board = get_board_for(request.user, code)
    return _answer(request, board, "case-label", print_one_sheet, describe_case(_sheet(request, board)))


@require_safe
def cut_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """Every cable with its labels, and what to cut from which length."""
    board = get_board_for(request.user, code)
    described = describe_cuts(_sheet(request, board), request.user, request.GET.get("cut"))
    return _answer(request, board, "cut-sheet", print_pdf, described)


@require_safe
def first_power_sheet(request: HttpRequest, code: str) -> HttpResponse:
    """The list of the first power-on, with lines for a pen."""
    board = get_board_for(request.user, code)
    described = describe_first_power(_sheet(request, board), request.user)
    return _answer(request, board, "first-power-sheet", print_pdf, described)


def _sheet(request: HttpRequest, board: Board) -> BoardSheet:
    """Of the revision that the address names, else of the working copy; 404 for a revision that is none."""
    if "revision" not in request.GET:
        return BoardSheet(board)
    return BoardSheet.of_revision(board, get_revision(board, request.GET["revision"]))


def _answer(
    request: HttpRequest, board: Board, paper: str, press: Press, context: dict[str, Any]
) -> HttpResponse:
    """The PDF, named for its board; without Pango a page that says what to install."""
    try:
        pdf = press(f"papers/{paper.replace('-', '_')}.html", context)
    except PapersUnavailable as unavailable:
        missing = {"board": board, "shop": board.shop, "unavailable": unavailable, "tab": "papers"}
        return render(request, "papers/unavailable.html", missing, status=503)
    answer = HttpResponse(pdf, content_type="application/pdf")
    revision = context["sheet"].revision
    state = f"-revision-{revision.number}" if revision else ""
    answer["Content-Disposition"] = f'inline; filename="{board.code}-{paper}{state}.pdf"'
    return answer
