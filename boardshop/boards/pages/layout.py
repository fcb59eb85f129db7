"""The layout page: the drawing, and the place of every pedal and supply in figures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from boardshop.boards.drawing import draw_board
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.pedals import PlaceForm, PlaceSupplyForm
from boardshop.boards.pages.cables import link_key
from boardshop.boards.pages.fastening import tell_fastening
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.room import tell_rows
from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables import measure_runs
from boardshop.core.plan import Pedal, Supply


@dataclass(frozen=True)
class PlaceRow:
    """One body: its number or ref, size and place."""

    ref: str
    number: int | str
    name: str
    width: int | None
    depth: int | None
    form: EditForm
    is_placed: bool


def place_key(ref: str) -> str:
    return f"place-{ref}"


def draw_sheet(sheet: BoardSheet, *, page: str = "layout", selected: str = "") -> SafeString:
    """The drawing as it stands on every page of the board; each thing leads to its row."""
    addresses = {name: reverse(name, args=[sheet.board.code]) for name in ("layout", "cables", "power")}
    addresses[page] = ""
    places = {pedal.ref for pedal in sheet.plan.pedals} | {supply.ref for supply in sheet.plan.supplies}
    links = {link.ref for link in sheet.plan.links}

    def url(ref: str) -> str | None:
        if ref in places:
            return f"{addresses['layout']}#{place_key(ref)}"
        return f"{addresses['cables']}#{link_key(ref)}" if ref in links else None

    svg = draw_board(
        sheet.plan,
        runs=measure_runs(sheet.plan),
        numbers=sheet.numbers,
        selected=selected or None,
        url=url,
        length_unit=sheet.board.shop.length_unit,
        name=f"{page}-drawing",
    )
    return mark_safe(svg)  # noqa: S308 - draw_board escapes every text


def build_layout(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    unit = sheet.board.shop.length_unit
    return {
        "drawing": draw_sheet(sheet, selected=state.opened),
        "rows": [_pedal_row(sheet, state, pedal, unit) for pedal in sheet.pedals],
        "supply_rows": [_supply_row(state, supply, unit) for supply in sheet.plan.supplies],
        "layout": sheet.layout,
        "room": tell_rows(sheet.plan, unit),
        "fastening": tell_fastening(sheet),
        "weight": sheet.weight,
        "findings": list_findings(sheet.plan, sheet.findings_of("layout", "weight"), state),
    }


def _pedal_row(sheet: BoardSheet, state: PageState, pedal: Pedal, unit: str) -> PlaceRow:
    key, place = place_key(pedal.ref), pedal.place
    values = {"x": place.x, "y": place.y, "turn": place.turn} if place else {"turn": 0}
    return PlaceRow(
        ref=pedal.ref,
        number=sheet.numbers.get(pedal.ref, pedal.ref),
        name=pedal.name or pedal.kind,
        width=pedal.width,
        depth=pedal.depth,
        form=state.form(
            key, lambda: PlaceForm(key=key, unit=unit, initial={**values, "pinned": pedal.pinned})
        ),
        is_placed=place is not None,
    )


def _supply_row(state: PageState, supply: Supply, unit: str) -> PlaceRow:
    key, place = place_key(supply.ref), supply.place
    values: dict[str, Any] = (
        {"x": place.x, "y": place.y, "turn": place.turn, "under": place.under} if place else {"turn": 0}
    )
    return PlaceRow(
        ref=supply.ref,
        number=supply.ref,
        name=supply.model or "",
        width=supply.width,
        depth=supply.depth,
        form=state.form(key, lambda: PlaceSupplyForm(key=key, unit=unit, initial=values)),
        is_placed=place is not None,
    )


LAYOUT = Page("layout", build_layout)
