"""One revision as it was released, computed from its frozen file."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString, mark_safe

from boardshop.boards.access import may_change
from boardshop.boards.drawing import draw_board
from boardshop.boards.models import Board, Revision
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.lanes import draw_signal
from boardshop.boards.pages.page import PageState
from boardshop.boards.pages.power import list_blocks
from boardshop.boards.pages.strip import list_strips
from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables import measure_runs


def show(request: HttpRequest, board: Board, revision: Revision) -> HttpResponse:
    sheet = BoardSheet.of_revision(board, revision)
    context = {
        "board": board,
        "shop": board.shop,
        "tab": "history",
        "page": "revision",
        "revision": revision,
        "sheet": sheet,
        "drawing": _draw(sheet),
        "strips": list_strips(sheet, lambda ref: ""),
        "lanes": draw_signal(sheet, lambda ref: ""),
        "blocks": list_blocks(sheet),
        "headroom": sheet.plan.rules.headroom_percent,
        "links": [(link, sheet.runs.get(link.ref.casefold())) for link in sheet.plan.links],
        "cut_total_mm": sheet.cables.cut_total_mm,
        "findings": list_findings(sheet.plan, sheet.findings, PageState()),
        "may_restore": may_change(board),
    }
    return render(request, "boards/show_revision.html", context)


def _draw(sheet: BoardSheet) -> SafeString:
    svg = draw_board(
        sheet.plan,
        runs=measure_runs(sheet.plan),
        numbers=sheet.numbers,
        length_unit=sheet.board.shop.length_unit,
        name="revision-drawing",
    )
    return mark_safe(svg)  # noqa: S308 - draw_board escapes every text
