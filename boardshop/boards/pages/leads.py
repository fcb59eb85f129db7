"""The page of DC leads: what each fed jack needs, the lead on it or the one at hand, and what to take."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.services.leads import write_taken
from boardshop.boards.sheet import BoardSheet
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.power.drops import Drop, loses_too_much, lost_percent
from boardshop.core.power.lead_list import list_leads_to_take
from boardshop.core.power.lead_ways import Lack
from boardshop.core.power.leads import DRAWER, FeedLead, assign_leads
from boardshop.core.printing import round_whole

ABOUT_LEADS = ("P04", "P14", "P29")
"""Rules that a lead can break: too little arrives, a plug does not mate, too much is lost."""

MOST_AT_ONCE = 300
"""So many leads one button takes; a form may not carry many more fields."""


@dataclass(frozen=True)
class JackLine:
    """One fed jack; mV and mm, None where unknown."""

    ref: str
    number: int | str
    name: str
    tail_mm: int | None
    is_nearest: bool
    drop_mv: int | None
    percent: float | None
    at_pedal_mv: int | None
    is_over: bool | None


@dataclass(frozen=True)
class FeedBlock:
    """One feed with its jacks; `taken` is what the button sends."""

    lead: FeedLead
    outlets: str
    jacks: tuple[JackLine, ...]
    is_chain: bool
    taken: str

    @property
    def taken_alone(self) -> tuple[str, ...]:
        """What the button of this row sends."""
        return (self.taken,) if self.taken else ()

    @property
    def over_mm(self) -> int | None:
        """How much too short the lead is."""
        return -(self.lead.spare_mm or 0) if self.lead.is_too_short else None


@dataclass(frozen=True)
class LackLine:
    """A value that nobody recorded, and the page where it is put in."""

    what: str
    way_out: str
    address: str


def build_leads(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    found = assign_leads(sheet.plan)
    blocks = sorted((_block(sheet, one) for one in found.feeds), key=lambda block: _place(sheet, block))
    findings = [one for one in sheet.findings_of("power") if one.rule in ABOUT_LEADS]
    return {
        "blocks": blocks,
        "taken": [block.taken for block in blocks if block.taken][:MOST_AT_ONCE],
        "is_tried": found.is_tried,
        "heaps": found.heaps,
        "drawer": DRAWER,
        "to_take": list_leads_to_take(sheet.plan),
        "lacks": _list_lacks(sheet, found.feeds),
        "unfed": sheet.power.unfed,
        "drop_percent": sheet.plan.rules.drop_percent,
        "findings": list_findings(sheet.plan, findings, state),
    }


def _place(sheet: BoardSheet, block: FeedBlock) -> tuple[int, int]:
    """By the balloons' numbers, what has none last, in the order of the feeds."""
    number = block.jacks[0].number
    return (0, number) if isinstance(number, int) else (1, sheet.plan.feeds.index(block.lead.feed))


def _block(sheet: BoardSheet, one: FeedLead) -> FeedBlock:
    drops: dict[str, Drop] = {fold(drop.pairing.fed.ref): drop for drop in one.drops}
    return FeedBlock(
        lead=one,
        outlets=" + ".join(one.feed.outlets),
        jacks=tuple(_jack_line(sheet, one, end, drops.get(fold(end))) for end in one.feed.jacks),
        is_chain=len(one.feed.jacks) > 1,
        taken=write_taken(one.feed.jacks[0], one.chosen) if one.chosen else "",
    )


def _jack_line(sheet: BoardSheet, one: FeedLead, end: str, drop: Drop | None) -> JackLine:
    pedal = index_plan(sheet.plan).pedals[fold(split_end(end)[0])]
    lost = None if drop is None else drop.drop_mv
    return JackLine(
        ref=end,
        number=sheet.numbers.get(pedal.ref, pedal.ref),
        name=pedal.name or pedal.kind,
        tail_mm=next((tail.mm for tail in one.need.tails if tail.jack == end), None),
        is_nearest=end == one.need.jack,
        drop_mv=None if lost is None else round_whole(lost),
        percent=None if drop is None else lost_percent(drop),
        at_pedal_mv=None if drop is None or drop.at_pedal_mv is None else round_whole(drop.at_pedal_mv),
        is_over=None if drop is None else loses_too_much(sheet.plan.rules, drop),
    )


def _list_lacks(sheet: BoardSheet, feeds: Iterable[FeedLead]) -> list[LackLine]:
    """What keeps a length or a choice from being told, each once."""
    lacks = [lack for one in feeds for lack in one.need.lacks]
    lacks += [lack for one in feeds if one.to_get for lack in one.to_get.lacks]
    return [LackLine(lack.what, lack.way_out, _address_of(sheet, lack)) for lack in dict.fromkeys(lacks)]


def _address_of(sheet: BoardSheet, lack: Lack) -> str:
    return reverse("gear") if lack.page == "gear" else reverse(lack.page, args=[sheet.board.code])


LEADS = Page("leads", build_leads, under="power")
