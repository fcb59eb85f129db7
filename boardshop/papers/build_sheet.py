"""What stands on a build sheet, gathered from core's own sections."""

from dataclasses import dataclass
from typing import Any

from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe

from boardshop.boards.drawing import choose_scale, draw_board
from boardshop.boards.pages.fastening import tell_fastening
from boardshop.boards.pages.tone import list_tones
from boardshop.boards.pages.tone_words import label_against
from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables.runs import cable_length, link_capacitances, measure_runs
from boardshop.core.findings import Finding
from boardshop.core.index import fold, index_plan
from boardshop.core.naming import called
from boardshop.core.plan import Link
from boardshop.core.power.section import DropRow
from boardshop.core.repeats import Repeats, group_repeats
from boardshop.core.tone import NOTES
from boardshop.core.trace import Standing, Supplied, trace_pedals
from boardshop.crew.models import Shop

DRAWING_ROOM = {Shop.Paper.A4: (269.0, 112.0), Shop.Paper.LETTER: (251.0, 112.0)}
"""Width and height in mm that the drawing may take on the first sheet, which lies across."""


@dataclass(frozen=True)
class CableRow:
    """One link on paper; `length_mm` is cut, made or given, as `how` says."""

    link: Link
    cable: str
    plug_from: str
    plug_to: str
    length_mm: int | None
    how: str
    pf: int | None
    blocked_by: tuple[str, ...]


@dataclass(frozen=True)
class FeedRow:
    """One power jack on paper with what the lead to it loses."""

    pedal: Standing
    supplied: Supplied
    drop: DropRow | None
    lead_plug: str
    """`Barrel straight (J9)`; blank where none is chosen."""


def describe_build(sheet: BoardSheet, person: Any) -> dict[str, Any]:
    """The context of the build sheet's template."""
    plan, board = sheet.plan, sheet.board
    scale = choose_scale(plan, *DRAWING_ROOM[Shop.Paper(board.shop.paper)])
    pedals = trace_pedals(plan)
    return {
        "board": board,
        "shop": board.shop,
        "sheet": sheet,
        "printed_on": timezone.localdate(),
        "printed_by": person,
        "findings": list_findings(sheet),
        "hazards": [one for one in sheet.findings if not one.can_be_kept],
        "drawing": _draw(sheet, scale),
        "scale": scale,
        "pedals": pedals,
        "cables": list_cables(sheet),
        "plugs": [(called(index_plan(plan), one.plug), one) for one in sheet.cables.parts.plugs],
        "plugless": count_plugless(sheet),
        "feeds": list_feeds(sheet, pedals),
        "fastening": tell_fastening(sheet),
        "tones": [tone for tone in list_tones(plan) if tone.is_linked],
        "tone_heads": label_against(),
        "tone_notes": [words for _rule, words in NOTES],
    }


def _draw(sheet: BoardSheet, scale: int) -> SafeString:
    unit = sheet.board.shop.length_unit
    svg = draw_board(sheet.plan, runs=measure_runs(sheet.plan), scale=scale, length_unit=unit)
    return mark_safe(svg)  # noqa: S308 - draw_board escapes every text


def list_cables(sheet: BoardSheet) -> list[CableRow]:
    """Every link in the plan's order, with its length and capacitance as the report has them."""
    index = index_plan(sheet.plan)
    capacitances = link_capacitances(sheet.plan)
    measured = {fold(run.link.ref): run for run in measure_runs(sheet.plan)}
    rows = []
    for link in sheet.plan.links:
        run = measured.get(fold(link.ref))
        rows.append(
            CableRow(
                link=link,
                cable=_named(index.cables, link.cable),
                plug_from=_named(index.plugs, link.plug_from),
                plug_to=_named(index.plugs, link.plug_to),
                length_mm=cable_length(link, run.cut_mm if run else None),
                how="given" if link.length else "made" if link.made else "to cut",
                pf=capacitances[fold(link.ref)],
                blocked_by=run.blocked_by if run else (),
            )
        )
    return rows


def count_plugless(sheet: BoardSheet) -> int:
    """Ends of links to cut for which no plug is chosen, so that no count of plugs has them."""
    cut = [link for link in sheet.plan.links if fold(link.ref) in sheet.runs]
    return sum(plug is None for link in cut for plug in (link.plug_from, link.plug_to))


def list_feeds(sheet: BoardSheet, pedals: tuple[Standing, ...]) -> list[FeedRow]:
    """Every power jack in signal order."""
    drops = {fold(drop.to): drop for drop in sheet.power.drops}
    index = index_plan(sheet.plan)
    return [
        FeedRow(
            pedal=pedal,
            supplied=supplied,
            drop=drops.get(fold(f"{pedal.ref}.{supplied.jack}")),
            lead_plug=called(index, supplied.lead.plug) if supplied.lead and supplied.lead.plug else "",
        )
        for pedal in pedals
        for supplied in pedal.supplied
    ]


def list_findings(sheet: BoardSheet) -> list[Finding | Repeats[Finding]]:
    """Worst first; what repeats is said once, with what each adds to it, where that leaves nothing out."""
    rows: list[Finding | Repeats[Finding]] = []
    for said in group_repeats(sheet.plan, sheet.findings):
        rows += [said] if said.is_said_whole and not said.is_single else said.findings
    return rows


def _named(types: dict[str, Any], ref: str | None) -> str:
    kind = types.get(fold(ref)) if ref else None
    return "" if kind is None else kind.name or kind.ref
