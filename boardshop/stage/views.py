"""The phone on a dark stage: what feeds this pedal, which cable comes next."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from boardshop.boards.access import get_board_for, last_released
from boardshop.boards.held_files import photos_by_ref
from boardshop.boards.sheet import BoardSheet
from boardshop.core.findings import pick_urgent
from boardshop.core.trace import find_short_cut, trace_pedals
from boardshop.stage.forms import CodeForm


@require_safe
def find_board(request: HttpRequest) -> HttpResponse:
    """A code typed by hand, where no camera reads the label; it leads to the stage page of its board.

    A made cable's id leads to the cable.
    """
    form = CodeForm(request.GET if "code" in request.GET else None, person=request.user)
    if form.is_bound and form.is_valid() and form.cable:
        return redirect("show-made-cable", form.cable.code)
    if form.is_bound and form.is_valid() and form.board:
        return redirect("stage-board", form.board.code)
    return render(request, "stage/find_board.html", {"form": form}, status=422 if form.is_bound else 200)


@require_safe
def stage_board(request: HttpRequest, code: str) -> HttpResponse:
    """The board that a label's code opens: the chain, and each pedal opened by one tap without scripts.

    It shows what is on stage, the last released revision; the working copy where there is none, or on demand.
    """
    board = get_board_for(request.user, code)
    released = last_released(board)
    is_working = released is None or "working" in request.GET
    sheet = BoardSheet(board) if released is None or is_working else BoardSheet.of_revision(board, released)
    urgent = pick_urgent(sheet.findings)
    context = {
        "board": board,
        "sheet": sheet,
        "released": released,
        "is_working": is_working,
        "pedals": trace_pedals(sheet.plan, sheet.findings),
        "photos": photos_by_ref(board, sheet.revision),
        "short_cut": find_short_cut(sheet.plan, sheet.findings),
        "hazards": [one for one in urgent if not one.can_be_kept],
        "faults": [one for one in urgent if one.can_be_kept],
    }
    return render(request, "stage/stage_board.html", context)
