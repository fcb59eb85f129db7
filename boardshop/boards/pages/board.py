"""A board at a glance: the drawing, everything found, the order, the loads and the cuts."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.layout import draw_sheet
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.power import list_blocks
from boardshop.boards.pages.standing import compare_with_released
from boardshop.boards.pages.strip import list_strips
from boardshop.boards.sheet import BoardSheet


def build_board(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    order = reverse("order", args=[sheet.board.code])
    return {
        "drawing": draw_sheet(sheet, page="board"),
        "strips": list_strips(sheet, lambda ref: f"{order}#play-{ref}"),
        "blocks": list_blocks(sheet),
        "headroom": sheet.plan.rules.headroom_percent,
        "links": [(link, sheet.runs.get(link.ref.casefold())) for link in sheet.plan.links],
        "cut_total_mm": sheet.cables.cut_total_mm,
        "weight": sheet.weight,
        "standing": compare_with_released(sheet),
        "findings": list_findings(sheet.plan, sheet.findings, state),
    }


BOARD = Page("board", build_board)
