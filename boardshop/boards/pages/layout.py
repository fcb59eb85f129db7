"""The layout page: the drawing that is edited, what is chosen on it, and every place in figures."""

from __future__ import annotations

import json
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from boardshop.boards.drawing import draw_board
from boardshop.boards.drawing.found import Mark, list_marks
from boardshop.boards.drawing.pedals import Url
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.pedals import PlaceForm, PlaceSupplyForm
from boardshop.boards.pages.cables import link_key
from boardshop.boards.pages.fastening import tell_fastening
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.room import tell_rows
from boardshop.boards.pages.selection import ANY_TURN, select
from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables import measure_runs
from boardshop.core.cables.rules import OF_PLACES
from boardshop.core.findings import sort_findings
from boardshop.core.plan import BoardPlan, Pedal, Supply


@dataclass(frozen=True)
class PlaceRow:
    """One body: its number or ref, size and place; `typed` is its form where that was refused."""

    ref: str
    number: int | str
    name: str
    width: int | None
    depth: int | None
    values: tuple[tuple[str, Any], ...]
    """What its form shows, by field."""
    fresh: Callable[[], EditForm]
    typed: EditForm | None
    is_chosen: bool
    is_placed: bool
    is_supply: bool = False

    @cached_property
    def form(self) -> EditForm:
        """Made when it is drawn: most rows are remembered."""
        return self.fresh() if self.typed is None else self.typed

    @property
    def memory(self) -> Hashable | None:
        """All that its row shows; see templatetags/remembered.py."""
        if self.typed is not None:
            return None
        shown = (self.ref, self.number, self.name, self.width, self.depth, self.values)
        return *shown, self.is_chosen, self.is_placed, self.is_supply


def place_key(ref: str) -> str:
    return f"place-{ref}"


def layout_address(sheet: BoardSheet, page: str = "") -> Url:
    """Where each thing on a drawing is changed; on the page itself that is named, without its address."""
    addresses = {name: reverse(name, args=[sheet.board.code]) for name in ("layout", "cables", "power")}
    addresses[page] = ""
    places = {pedal.ref for pedal in sheet.plan.pedals} | {supply.ref for supply in sheet.plan.supplies}
    links = {link.ref for link in sheet.plan.links}

    def url(ref: str) -> str | None:
        if ref in places:
            return f"{addresses['layout']}?open={ref}#selection"
        return f"{addresses['cables']}#{link_key(ref)}" if ref in links else None

    return url


def draw_sheet(
    sheet: BoardSheet, *, page: str = "layout", selected: str = "", marks: Sequence[Mark] = ()
) -> SafeString:
    """The drawing as it stands on every page of the board; each thing leads to where it is changed."""
    svg = draw_board(
        sheet.plan,
        runs=measure_runs(sheet.plan),
        numbers=sheet.numbers,
        selected=selected or None,
        url=layout_address(sheet, page),
        length_unit=sheet.board.shop.length_unit,
        name=f"{page}-drawing",
        details=page == "layout",
        marks=marks,
    )
    return mark_safe(svg)  # noqa: S308 - draw_board escapes every text


def build_layout(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    unit = sheet.board.shop.length_unit
    opened = state.opened.split()
    selection = select(sheet.plan, sheet.numbers, state, unit, opened)
    rows = [_pedal_row(sheet, state, pedal, unit) for pedal in sheet.pedals]
    rows += [_supply_row(state, supply, unit) for supply in sheet.plan.supplies]
    found = sheet.findings_of("layout", "weight")
    of_cables = [one for one in sheet.findings_of("cables") if one.rule in OF_PLACES]
    return {
        "view": "top",
        "drawing": draw_sheet(sheet, selected=selection.refs, marks=list_marks(sheet.plan, found)),
        "selection": selection,
        "opened": opened,
        "rows": rows,
        "tray": [row for row in rows if not row.is_placed],
        "hand": json.dumps(describe_for_hand(sheet.plan)),
        "layout": sheet.layout,
        "room": tell_rows(sheet.plan, unit),
        "fastening": tell_fastening(sheet),
        "weight": sheet.weight,
        "cuts": sheet.cables.runs,
        "cut_total_mm": sheet.cables.cut_total_mm,
        "findings": list_findings(sheet.plan, sort_findings([*found, *of_cables]), state),
    }


def describe_for_hand(plan: BoardPlan) -> dict[str, Any]:
    """What the page's script needs to move things about, all in mm: edges to snap to, gaps, turns, sizes."""
    frame, rules = plan.frame, plan.rules
    return {
        "frame": [frame.width, frame.depth],
        "gap": rules.gap_mm,
        "plugGap": rules.plug_gap_mm,
        "depths": sorted({y for rail in frame.rails for y in (rail.from_y, rail.to_y)}),
        "tiers": sorted({y for tier in frame.tiers for y in (tier.from_y, tier.to_y)}),
        "kept": [[kept.x, kept.y, kept.x + kept.width, kept.y + kept.depth] for kept in frame.keepouts],
        "turns": {
            **{pedal.ref: list(pedal.turns or (0,)) for pedal in plan.pedals},
            **{supply.ref: list(ANY_TURN) for supply in plan.supplies},
        },
        "sizes": {
            **{pedal.ref: [pedal.width, pedal.depth] for pedal in plan.pedals},
            **{supply.ref: [supply.width, supply.depth] for supply in plan.supplies},
        },
        "pinned": [pedal.ref for pedal in plan.pedals if pedal.pinned],
        "under": [supply.ref for supply in plan.supplies if supply.place and supply.place.under],
        "supplies": [supply.ref for supply in plan.supplies],
    }


def _pedal_row(sheet: BoardSheet, state: PageState, pedal: Pedal, unit: str) -> PlaceRow:
    key, place = place_key(pedal.ref), pedal.place
    values = {"x": place.x, "y": place.y, "turn": place.turn} if place else {"turn": 0}
    fresh = partial(PlaceForm, key=key, unit=unit, initial={**values, "pinned": pedal.pinned})
    return PlaceRow(
        ref=pedal.ref,
        number=sheet.numbers.get(pedal.ref, pedal.ref),
        name=pedal.name or pedal.kind,
        width=pedal.width,
        depth=pedal.depth,
        values=(*values.items(), ("pinned", pedal.pinned)),
        fresh=fresh,
        typed=state.typed_form(key, fresh),
        is_chosen=pedal.ref in state.opened.split(),
        is_placed=place is not None,
    )


def _supply_row(state: PageState, supply: Supply, unit: str) -> PlaceRow:
    key, place = place_key(supply.ref), supply.place
    values: dict[str, Any] = (
        {"x": place.x, "y": place.y, "turn": place.turn, "under": place.under} if place else {"turn": 0}
    )
    fresh = partial(PlaceSupplyForm, key=key, unit=unit, initial=values)
    return PlaceRow(
        ref=supply.ref,
        number=supply.ref,
        name=supply.model or "",
        width=supply.width,
        depth=supply.depth,
        values=tuple(values.items()),
        fresh=fresh,
        typed=state.typed_form(key, fresh),
        is_chosen=supply.ref in state.opened.split(),
        is_placed=place is not None,
        is_supply=True,
    )


LAYOUT = Page("layout", build_layout)
