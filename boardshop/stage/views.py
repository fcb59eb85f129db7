"""The phone on a dark stage: what feeds this pedal, which cable comes next."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from boardshop.boards.access import get_board_for
from boardshop.boards.plan.read import load_plan
from boardshop.core.trace import find_short_cut, trace_pedals


@require_safe
def stage_board(request: HttpRequest, code: str) -> HttpResponse:
    """The board that a label's code opens: the chain, and each pedal opened by one tap without scripts."""
    board = get_board_for(request.user, code)
    plan = load_plan(board)
    context = {"board": board, "pedals": trace_pedals(plan), "short_cut": find_short_cut(plan)}
    return render(request, "stage/stage_board.html", context)
