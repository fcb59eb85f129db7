"""A board at a glance: the drawing, everything found, the order, the loads and the cuts."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from boardshop.boards.access import may_change
from boardshop.boards.held_files import board_files
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.lanes import draw_signal
from boardshop.boards.pages.layout import draw_sheet
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.power import list_blocks
from boardshop.boards.pages.standing import compare_with_released
from boardshop.boards.pages.strip import list_strips
from boardshop.boards.sheet import BoardSheet


def build_board(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    plan, board = sheet.plan, sheet.board
    refs = [one.ref for rows in (plan.pedals, plan.supplies, plan.links) for one in rows]
    order = reverse("order", args=[sheet.board.code])
    return {
        "drawing": draw_sheet(sheet, page="board"),
        "strips": list_strips(sheet, lambda ref: f"{order}#play-{ref}"),
        "lanes": draw_signal(sheet, lambda ref: f"{order}#play-{ref}"),
        "blocks": list_blocks(sheet),
        "headroom": sheet.plan.rules.headroom_percent,
        "links": [(link, sheet.runs.get(link.ref.casefold())) for link in sheet.plan.links],
        "cut_total_mm": sheet.cables.cut_total_mm,
        "held": board_files(board, refs, editing=may_change(board)),
        "weight": sheet.weight,
        "standing": compare_with_released(sheet),
        "findings": list_findings(sheet.plan, sheet.findings, state),
    }


BOARD = Page("board", build_board)
