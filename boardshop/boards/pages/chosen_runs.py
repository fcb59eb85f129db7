"""What is chosen on the cables page: one cable with all that is known of its way, or those of one pedal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables.drops import Drop, drops_by_link
from boardshop.core.cables.obstacles import call_obstacle
from boardshop.core.cables.runs import (
    MeasuredRun,
    cable_length,
    cable_type_of,
    link_capacitances,
    measure_runs,
)
from boardshop.core.cables.tracing import neighbours_of
from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.lengths import show_length
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan, Link
from boardshop.core.printing import round_whole


@dataclass(frozen=True)
class Step:
    """The next cable in one direction, and whose way there is."""

    ref: str
    words: str


@dataclass(frozen=True)
class ChosenRun:
    """One cable; lengths are in mm and None where not known."""

    link: Link
    source: str
    target: str
    plugs: tuple[str, str]
    cable: str
    path_mm: int | None
    along_mm: int | None
    cut_mm: int | None
    """What to cut, or what it was made or given as."""
    anew_mm: int | None
    """Of a cable that is made: what a new one would be cut to."""
    is_cut: bool
    pf: int | None
    corners: tuple[str, ...]
    drops: tuple[str, ...]
    blocked_by: tuple[str, ...]
    before: tuple[Step, ...]
    after: tuple[Step, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Around:
    """A pedal, an instrument or an amp that was chosen, with its cables in the plan's order."""

    ref: str
    words: str
    links: tuple[Link, ...]


@dataclass(frozen=True)
class Selection:
    """``refs`` is what the drawing brings out, parted by spaces; ``wanted`` is what the address asked for."""

    wanted: str = ""
    refs: str = ""
    run: ChosenRun | None = None
    around: Around | None = None


def choose(sheet: BoardSheet, wanted: str) -> Selection:
    """By the ref of a link, of what its ends are on, or by one of their jacks; blank chooses nothing."""
    index, ref = index_plan(sheet.plan), fold(wanted.strip())
    link = next((one for one in sheet.plan.links if fold(one.ref) == ref), None)
    if link is not None:
        return Selection(link.ref, link.ref, run=_choose_run(sheet, index, link))
    part = index.signal_parts.get(split_end(ref)[0])
    if part is None:
        return Selection(wanted)
    links = tuple(one for one in sheet.plan.links if _touches(one, ref))
    refs = " ".join((part.ref, *(one.ref for one in links)))
    return Selection(part.ref, refs, around=Around(part.ref, called(index, part.ref), links))


def _touches(link: Link, ref: str) -> bool:
    ends = (fold(link.source), fold(link.target))
    return ref in ends or ref in (split_end(end)[0] for end in ends)


def _choose_run(sheet: BoardSheet, index: PlanIndex, link: Link) -> ChosenRun:
    plan, unit = sheet.plan, sheet.board.shop.length_unit
    found = {fold(one.link.ref): one for one in measure_runs(plan)}
    run = found.get(fold(link.ref)) or MeasuredRun(link)
    cable = cable_type_of(index, link)
    plugs = [index.plugs.get(fold(ref)) if ref else None for ref in (link.plug_from, link.plug_to)]
    names = [plug.name or plug.ref if plug else _("not chosen") for plug in plugs]
    before, after = neighbours_of(plan, link.ref).before, neighbours_of(plan, link.ref).after
    return ChosenRun(
        link=link,
        source=called(index, link.source),
        target=called(index, link.target),
        plugs=(names[0], names[1]),
        cable=(cable.name or cable.ref) if cable else _("not chosen"),
        path_mm=run.path_mm,
        along_mm=None if run.length_mm is None else round_whole(run.length_mm),
        cut_mm=cable_length(link, run.cut_mm),
        anew_mm=run.cut_mm if link.made is not None and link.length is None else None,
        is_cut=link.length is None and link.made is None,
        pf=link_capacitances(plan)[fold(link.ref)],
        corners=tuple(_say_spot(corner, unit) for corner in run.corners),
        drops=tuple(_say_drop(index, drop, unit) for drop in drops_by_link(plan).get(fold(link.ref), ())),
        blocked_by=tuple(call_obstacle(plan, index, name) for name in run.blocked_by),
        before=_steps(plan, index, before, is_before=True),
        after=_steps(plan, index, after, is_before=False),
        findings=tuple(one for one in sheet.findings_of("cables") if link.ref in one.subjects),
    )


def _steps(plan: BoardPlan, index: PlanIndex, refs: Sequence[str], *, is_before: bool) -> tuple[Step, ...]:
    links = {link.ref: link for link in plan.links}
    ends = ((ref, links[ref].source if is_before else links[ref].target) for ref in refs)
    return tuple(Step(ref, called(index, end)) for ref, end in ends)


def _say_spot(at: tuple[int, int], unit: str) -> str:
    return _("x %(x)s, y %(y)s") % {"x": show_length(at[0], unit), "y": show_length(at[1], unit)}


def _say_drop(index: PlanIndex, drop: Drop, unit: str) -> str:
    jack = called(index, drop.jack)
    if drop.at is None or drop.away_mm is None:
        return _("%(jack)s: no opening lets it through") % {"jack": jack}
    where = {"jack": jack, "spot": _say_spot(drop.at, unit), "mm": show_length(drop.away_mm, unit)}
    return _("%(jack)s: through the top at %(spot)s, %(mm)s from its plug") % where
