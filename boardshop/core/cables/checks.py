"""What is wrong with the cables of a board: one small check per rule."""

from collections.abc import Iterator
from math import ceil

from boardshop.core.cables.ends import find_ends
from boardshop.core.cables.lacks import Lack, say_lacks
from boardshop.core.cables.obstacles import call_obstacle
from boardshop.core.cables.rules import LONG_ON_TOP_MM, MIDI_MAX_MM, cable_finding, connectors_mate
from boardshop.core.cables.runs import MeasuredRun, cable_length, cable_type_of, measure_runs
from boardshop.core.cables.spacing_checks import check_spacing
from boardshop.core.cables.way_checks import check_ways
from boardshop.core.findings import Finding, sort_findings
from boardshop.core.index import PlanIndex, fold, index_plan
from boardshop.core.naming import called, say_all
from boardshop.core.plan import BoardPlan, Jack, Link, PlugType


def check_cables(plan: BoardPlan) -> tuple[Finding, ...]:
    """Findings of runs, plugs and routes; the stock is judged with the cut plan."""
    index = index_plan(plan)
    found: list[Finding] = []
    lacks: list[Lack] = []
    for run in measure_runs(plan):
        lacks += run.missing
        found += [
            *_check_way(plan, index, run),
            *_check_made(index, run),
            *_check_long_on_top(plan, index, run),
        ]
    cuts = {fold(run.link.ref): run.cut_mm for run in measure_runs(plan)}
    for link in plan.links:
        found += _check_route(plan, index, link)
        found += _check_plugs(plan, index, link)
        found += _check_tested(index, link)
        lacks += _lacks_capacitance(index, link)
        found += _check_midi_length(index, link, cuts.get(fold(link.ref)))
    found += [*check_ways(plan), *check_spacing(plan)]
    return sort_findings([*found, *say_lacks(index, lacks)])


def between(index: PlanIndex, link: Link) -> str:
    """`W3 from Low Ember (P4.OUT) to P5.IN`."""
    return f"{link.ref} from {called(index, link.source)} to {called(index, link.target)}"


def _check_way(plan: BoardPlan, index: PlanIndex, run: MeasuredRun) -> Iterator[Finding]:
    if run.blocked_by:
        names = say_all(call_obstacle(plan, index, name) for name in run.blocked_by)
        stand = "stand" if run.blocked_by[1:] else "stands"
        what = f"There is no way for {between(index, run.link)}: {names} {stand} in it."
        yield cable_finding("C02", (run.link.ref, *run.blocked_by), what)


def _check_made(index: PlanIndex, run: MeasuredRun) -> Iterator[Finding]:
    made, needed, cut = run.link.made, run.needed_mm, run.cut_mm
    if made is None or needed is None or cut is None:
        return
    name = _name_made(index, run.link)
    if made < needed:
        what = f"{name} was made {made} mm long, but its run with both plugs takes {ceil(needed)} mm: it "
        what += f"does not reach. A new one would be cut to {cut} mm."
        yield cable_finding("C03", (run.link.ref,), what)
    elif made < cut:
        what = f"{name} was made {made} mm long and reaches, but a new one would be cut to {cut} mm: "
        yield cable_finding("C06", (run.link.ref,), what + "without slack it pulls on its plugs.")


def _name_made(index: PlanIndex, link: Link) -> str:
    """With the id on its own labels, where it has one."""
    id_ = f", cable {link.made_id}," if link.made_id else ""
    return f"{between(index, link)}{id_}"


def _check_tested(index: PlanIndex, link: Link) -> Iterator[Finding]:
    if link.made_test == "failed":
        what = f"{_name_made(index, link)} failed its test, so nobody can rely on it."
        yield cable_finding("C22", (link.ref,), what)
    elif link.made_id is not None and link.made_test is None:
        what = f"{_name_made(index, link)} was not tested, or not wholly, since it was made or mended."
        yield cable_finding("C23", (link.ref,), what)


def _check_long_on_top(plan: BoardPlan, index: PlanIndex, run: MeasuredRun) -> Iterator[Finding]:
    if run.path_mm is None or run.link.route != "top" or plan.frame.surface != "slotted" or not run.is_cut:
        return
    if run.path_mm > LONG_ON_TOP_MM:
        what = f"{between(index, run.link)} runs {run.path_mm} mm on top, where feet and hands catch it."
        yield cable_finding("C09", (run.link.ref,), what)


def _check_route(plan: BoardPlan, index: PlanIndex, link: Link) -> Iterator[Finding]:
    if link.route == "under" and plan.frame.surface == "flat" and link.length is None:
        what = f"{between(index, link)} is routed under the frame, but the frame's top has no openings."
        yield cable_finding("C04", (link.ref,), what)


def _check_plugs(plan: BoardPlan, index: PlanIndex, link: Link) -> Iterator[Finding]:
    for end in find_ends(plan, index, link):
        jack = index.jacks[fold(end.jack)]
        if (
            not isinstance(jack, Jack)
            or jack.connector is None
            or end.plug is None
            or end.plug.connector is None
        ):
            continue
        plug, where = _say_plug(end.plug), called(index, end.jack)
        if not connectors_mate(end.plug.connector, jack.connector):
            what = f"Plug {plug} of {link.ref} does not go into {where}, which is {jack.connector}."
            yield cable_finding("C05", (link.ref, end.jack), what)
        elif jack.channels == "stereo" and end.plug.connector == "6.35 TS" and jack.connector == "6.35 TRS":
            what = f"Plug {plug} of {link.ref} joins the ring of the stereo jack {where} to its sleeve: "
            yield cable_finding("C07", (link.ref, end.jack), what + "one side is lost.")


def _say_plug(plug: PlugType) -> str:
    """`Flat angle (J2, 6.35 TS)`."""
    named = bool(plug.name) and plug.name != plug.ref
    return f"{plug.name} ({plug.ref}, {plug.connector})" if named else f"{plug.ref} ({plug.connector})"


def _lacks_capacitance(index: PlanIndex, link: Link) -> list[Lack]:
    cable = cable_type_of(index, link)
    if link.carries != "signal":
        return []
    if cable is None:
        return [Lack("cable", link.ref)]
    return [Lack("capacitance", cable.ref)] if cable.pf_per_m is None else []


def _check_midi_length(index: PlanIndex, link: Link, cut_mm: int | None) -> Iterator[Finding]:
    length = cable_length(link, cut_mm)
    if link.carries == "midi" and length is not None and length > MIDI_MAX_MM:
        what = (
            f"{between(index, link)} is {length} mm of MIDI cable; beyond {MIDI_MAX_MM} mm messages get lost."
        )
        yield cable_finding("C10", (link.ref,), what)
