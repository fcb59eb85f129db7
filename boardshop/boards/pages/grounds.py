"""The grounds page: loops and where they run, cures in their order, and joins tried open."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.urls import reverse
from django.utils.http import urlencode
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from boardshop.boards.drawing.ground_sheet import list_joined
from boardshop.boards.drawing.grounds import draw_grounds
from boardshop.boards.pages.cables import link_key
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.power import feed_key
from boardshop.boards.pages.wording import say_volts
from boardshop.boards.sheet import BoardSheet
from boardshop.core.grounds import (
    Cure,
    GroundGraph,
    Join,
    Recount,
    RunningLoop,
    list_cures,
    map_grounds,
    recount_without,
    trace_loops,
)
from boardshop.core.grounds.cure_steps import STOP_AT
from boardshop.core.grounds.section import list_untold_earths, say_way
from boardshop.core.grounds.symptoms import SYMPTOMS
from boardshop.core.index import fold, index_plan

TRIED = "without"
"""The key in the address that names a join which is tried open."""


@dataclass(frozen=True)
class JoinChoice:
    """A join that can be tried open; `on` are the letters of the loops that it lies on, as they are drawn."""

    ref: str
    where: str
    on: str
    is_tried: bool


@dataclass(frozen=True)
class Trial:
    """What was asked to be opened, what of that was: no earth; and the names that are no join here."""

    refs: tuple[str, ...]
    opened: tuple[str, ...]
    recount: Recount
    strange: tuple[str, ...]


@dataclass(frozen=True)
class LoopLine:
    running: RunningLoop
    way: str
    through: list[Named]


@dataclass(frozen=True)
class Named:
    """A ref with the address of its row; blank for a unit's earth."""

    ref: str
    url: str


@dataclass(frozen=True)
class OpeningLine:
    """A join that a cure opens; `outlet` is the free outlet it would move to, `lacks` that there is none."""

    named: Named
    loops: int
    outlet: str
    lacks_outlet: bool


@dataclass(frozen=True)
class CureLine:
    """Openings that have an outlet to move to stand by themselves, those that lack one together."""

    cure: Cure
    openings: list[OpeningLine]
    concerns: str
    try_url: str

    @property
    def lacking(self) -> list[OpeningLine]:
        return [one for one in self.openings if one.lacks_outlet]

    @property
    def others(self) -> list[OpeningLine]:
        return [one for one in self.openings if not one.lacks_outlet]


def grounds_page(tried: Sequence[str] = ()) -> Page:
    """The page with these joins tried open; the board stays as it is."""
    return Page("grounds", partial(build_grounds, tried=tuple(tried)), under="power")


def build_grounds(sheet: BoardSheet, state: PageState, tried: tuple[str, ...] = ()) -> dict[str, Any]:
    graph = map_grounds(sheet.plan)
    trial = _try(graph, tried)
    left = graph.without(trial.opened)
    loops = trace_loops(sheet.plan, left)
    return {
        "drawing": _draw(sheet, graph, left, loops),
        "graph": graph,
        "left": left,
        "loops": [_loop_line(sheet, one) for one in loops],
        "untold": list_untold_earths(sheet.plan),
        "cures": [_cure_line(sheet, cure) for cure in list_cures(sheet.plan)],
        "stop_at": STOP_AT,
        "trial": trial,
        "choices": _list_choices(sheet, graph, loops, trial, is_earth=False),
        "earths": _list_choices(sheet, graph, loops, trial, is_earth=True),
        "symptoms": SYMPTOMS,
        "findings": list_findings(sheet.plan, sheet.findings_of("grounds"), state),
    }


def _try(graph: GroundGraph, tried: Sequence[str]) -> Trial:
    known = {fold(join.ref): join.ref for join in graph.joins}
    refs = tuple(dict.fromkeys(known[fold(ref)] for ref in tried if fold(ref) in known))
    strange = tuple(dict.fromkeys(ref[:60] for ref in tried if ref and fold(ref) not in known))
    earths = {join.ref for join in graph.joins if join.sort == "earth"}
    opened = tuple(ref for ref in refs if ref not in earths)
    return Trial(refs, opened, recount_without(graph, refs), strange)


def _draw(
    sheet: BoardSheet, graph: GroundGraph, left: GroundGraph, loops: Sequence[RunningLoop]
) -> SafeString:
    plan = sheet.plan
    groups: tuple[Sequence[Any], ...] = (plan.sources, sheet.pedals, plan.amps, plan.computers)
    units = list_joined(graph, (part.ref for group in groups for part in group))
    kept = {join.ref for join in left.joins}
    svg = draw_grounds(
        graph,
        loops,
        index_plan(plan),
        units,
        numbers=sheet.numbers,
        opened=[fold(join.ref) for join in graph.joins if join.ref not in kept],
    )
    return mark_safe(svg)  # noqa: S308 - draw_grounds escapes every text


def _loop_line(sheet: BoardSheet, one: RunningLoop) -> LoopLine:
    named = {join.ref: _name(sheet, join) for join in one.joins}
    return LoopLine(one, say_way(index_plan(sheet.plan), one.loop), list(named.values()))


def _name(sheet: BoardSheet, join: Join) -> Named:
    code = sheet.board.code
    if join.sort == "earth":
        return Named(join.ref, "")
    if join.sort == "return":
        return Named(join.ref, f"{reverse('power', args=[code])}?open={join.ref}#{feed_key(join.ref)}")
    return Named(join.ref, f"{reverse('cables', args=[code])}#{link_key(join.ref)}")


def _cure_line(sheet: BoardSheet, cure: Cure) -> CureLine:
    joins = {join.ref: join for join in map_grounds(sheet.plan).joins}
    openings = [
        OpeningLine(
            named=_name(sheet, joins[one.ref]),
            loops=one.loops,
            outlet=f"{one.outlet.ref}, {say_volts(one.outlet.setting_mv)}" if one.outlet else "",
            lacks_outlet=one.outlet is None and joins[one.ref].sort == "return",
        )
        for one in cure.openings
    ]
    asked = urlencode([(TRIED, ref) for ref in cure.opens])
    return CureLine(cure, openings, ", ".join(cure.concerns), f"?{asked}#try" if asked else "")


def _list_choices(
    sheet: BoardSheet, graph: GroundGraph, loops: Iterable[RunningLoop], trial: Trial, *, is_earth: bool
) -> list[JoinChoice]:
    """The joins on loops, or every earth, whether it lies on one or not."""
    letters: dict[str, list[str]] = {}
    for one in loops:
        for ref in dict.fromkeys(join.ref for join in one.joins):
            letters.setdefault(ref, []).append(one.letter)
    looped = {join.ref for join in graph.list_looped()}
    return [
        JoinChoice(
            join.ref, _say_where(sheet, join), ", ".join(letters.get(join.ref, [])), join.ref in trial.refs
        )
        for join in graph.joins
        if (join.sort == "earth") == is_earth and (is_earth or join.ref in looped)
    ]


def _say_where(sheet: BoardSheet, join: Join) -> str:
    if join.sort == "earth":
        return _("its protective earth")
    if join.sort == "return":
        return _("its return on %s") % join.other
    sorts = {"usb": "USB", "midi": "MIDI", "control": _("control")}
    ends = _("%(one)s to %(other)s") % {"one": join.one, "other": join.other}
    return f"{ends}, {sorts[join.sort]}" if join.sort in sorts else ends


GROUNDS = grounds_page()
