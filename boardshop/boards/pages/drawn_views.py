"""The board from below and from the side: pages that are looked at, with the findings about places."""

from __future__ import annotations

from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from boardshop.boards.drawing import draw_side, draw_underside
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.layout import layout_address
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables import measure_runs

TOP, UNDERSIDE, SIDE = "top", "underside", "side"


def build_underside(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    svg = draw_underside(
        sheet.plan,
        runs=measure_runs(sheet.plan),
        numbers=sheet.numbers,
        selected=state.opened or None,
        url=layout_address(sheet),
        length_unit=sheet.board.shop.length_unit,
    )
    return _describe(sheet, state, UNDERSIDE, svg, _("Underside, mirrored"))


def build_side(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    svg = draw_side(
        sheet.plan,
        numbers=sheet.numbers,
        selected=state.opened or None,
        url=layout_address(sheet),
        length_unit=sheet.board.shop.length_unit,
    )
    return _describe(sheet, state, SIDE, svg, _("Side view from the player’s right"))


def _describe(sheet: BoardSheet, state: PageState, view: str, svg: str, kind: str) -> dict[str, Any]:
    return {
        "view": view,
        "kind": kind,
        "drawing": safe_drawing(svg),
        "findings": list_findings(sheet.plan, sheet.findings_of("layout"), state),
    }


def safe_drawing(svg: str) -> SafeString:
    return mark_safe(svg)  # noqa: S308 - every drawing escapes its texts


UNDERSIDE_PAGE = Page("underside", build_underside, under="layout")
SIDE_PAGE = Page("side-view", build_side, under="layout")
