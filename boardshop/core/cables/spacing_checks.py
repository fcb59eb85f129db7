"""Signal kept apart from mains, AC and DC leads and from switching supplies.

Only cables on the same side of the frame's top are held against each other: how much height lies between
the two sides is not recorded.  The leads' ways are taken as the shortest (`lead_runs`), and the messages say
so.  Bodies of supplies are held against pedals and patches in plan, as the layout's own distances are.  What
is not recorded is asked for once for all, and only where one of the possible answers would make a finding.
"""

from collections.abc import Iterator, Sequence

from boardshop.core.cables.beside import PARALLEL_FROM_MM, distance_to, measure_nearness
from boardshop.core.cables.lead_runs import (
    AC,
    DC,
    MAINS,
    LeadRun,
    feed_runs,
    list_lead_runs,
    mains_run,
)
from boardshop.core.cables.rules import (
    BESIDE_DC_MM,
    BESIDE_MAINS_MM,
    FIRST_ITEMS,
    FROM_SWITCHING_MM,
    NEAR_MAINS_MM,
    cable_finding,
)
from boardshop.core.cables.runs import MeasuredRun, measure_runs
from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.layout.geometry import body_box, straight_distance, supply_box
from boardshop.core.naming import called, say_all
from boardshop.core.numbering import number_pedals
from boardshop.core.plan import BoardPlan, Supply
from boardshop.core.vocabulary import SIDES

TAKEN = "The lead's way is taken as the shortest."
PICKS_UP = ("wah", "fuzz")
"""Kinds that pick up what a switching supply radiates; common practice."""


def check_spacing(plan: BoardPlan) -> Iterator[Finding]:
    index = index_plan(plan)
    signals = [run for run in measure_runs(plan) if run.link.carries == "signal" and len(run.points) > 1]
    leads = list_lead_runs(plan)
    for run in signals:
        beside = [lead for lead in leads if lead.route == run.link.route]
        for lead in beside:
            yield from _check_hum(index, run, lead)
        yield from _check_dc(index, run, [lead for lead in beside if lead.kind == DC])
    for supply in plan.supplies:
        if supply.conversion == "switch-mode":
            yield from _check_switching(plan, index, supply, signals)
    yield from _ask(plan, index, signals, leads)


def _check_hum(index: PlanIndex, run: MeasuredRun, lead: LeadRun) -> Iterator[Finding]:
    says = _say_hum(run, lead) if lead.kind in (AC, MAINS) else ""
    if says:
        rule = "C14" if lead.kind == MAINS else "C15"
        named = (
            f"the mains lead of {lead.end}"
            if lead.kind == MAINS
            else f"the AC lead to {called(index, lead.end)}"
        )
        what = f"{run.link.ref} {says.format(named)}: hum gets into the signal. {TAKEN}"
        yield cable_finding(rule, (run.link.ref, lead.end), what)


def _say_hum(run: MeasuredRun, lead: LeadRun) -> str:
    """What is wrong between a signal run and a lead with alternating current; blank where nothing is."""
    near = measure_nearness(run.points, lead.points, BESIDE_MAINS_MM)
    if near.beside_mm >= PARALLEL_FROM_MM:
        return (
            f"lies {near.beside_mm} mm beside {{}}, as near as {near.beside_apart_mm} mm instead of "
            f"{BESIDE_MAINS_MM} mm"
        )
    if near.apart_mm == 0:
        return f"meets {{}} without the {NEAR_MAINS_MM} mm between them that a crossing needs"
    if near.apart_mm < NEAR_MAINS_MM:
        return f"comes within {near.apart_mm} mm of {{}} instead of {NEAR_MAINS_MM} mm"
    return ""


def _check_dc(index: PlanIndex, run: MeasuredRun, leads: Sequence[LeadRun]) -> Iterator[Finding]:
    """One finding for each run, with all the leads it lies beside."""
    near = [
        lead.end
        for lead in leads
        if measure_nearness(run.points, lead.points, BESIDE_DC_MM).beside_mm >= PARALLEL_FROM_MM
    ]
    if near:
        ends = tuple(dict.fromkeys(near))
        named = say_all(called(index, end) for end in ends)
        what = (
            f"{run.link.ref} lies beside the DC lead to {named} nearer than {BESIDE_DC_MM} mm for "
            f"{PARALLEL_FROM_MM} mm and more: noise of the supply gets into the signal. {TAKEN}"
        )
        yield cable_finding("C16", (run.link.ref, *ends), what)


def _check_switching(
    plan: BoardPlan, index: PlanIndex, supply: Supply, signals: Sequence[MeasuredRun]
) -> Iterator[Finding]:
    """One finding for each pedal, and one for all the patches."""
    for ref, apart in _near_pedals(plan, supply):
        what = (
            f"{called(index, ref)} is {apart} mm from the switching supply {supply.ref}, less than "
            f"{FROM_SWITCHING_MM} mm: it picks up its whine."
        )
        yield cable_finding("C17", (ref, supply.ref), what)
    patches = [run.link.ref for run in _near_patches(plan, supply, signals)]
    if patches:
        come = "come" if patches[1:] else "comes"
        what = (
            f"{say_all(patches)}, where the signal is quietest, {come} within {FROM_SWITCHING_MM} mm of the "
            f"switching supply {supply.ref}: all that follows amplifies its whine."
        )
        yield cable_finding("C17", (*patches, supply.ref), what)


def _near_pedals(plan: BoardPlan, supply: Supply) -> Iterator[tuple[str, int]]:
    box = supply_box(supply)
    for pedal in plan.pedals:
        body = body_box(pedal)
        if box is not None and body is not None and pedal.kind in PICKS_UP:
            apart = straight_distance(box, body)
            if apart < FROM_SWITCHING_MM:
                yield pedal.ref, apart


def _near_patches(plan: BoardPlan, supply: Supply, signals: Sequence[MeasuredRun]) -> Iterator[MeasuredRun]:
    """Of the patches up to the third pedal in the signal."""
    box = supply_box(supply)
    first = {fold(ref) for ref, number in number_pedals(plan).items() if number <= FIRST_ITEMS}
    for run in signals:
        into = fold(split_end(run.link.target)[0])
        if box is not None and into in first and distance_to(run.points, box) < FROM_SWITCHING_MM:
            yield run


def _ask(
    plan: BoardPlan, index: PlanIndex, signals: Sequence[MeasuredRun], leads: Sequence[LeadRun]
) -> Iterator[Finding]:
    """What would have to be known, each thing once for all that lack it."""
    inlets = [supply.ref for supply in plan.supplies if _inlet_matters(plan, supply, signals)]
    outlets = _unknown_outlets(plan, index, signals)
    ends = [lead.end for lead in leads if lead.kind is None and any(_could_hum(run, lead) for run in signals)]
    kinds = [
        supply.ref
        for supply in plan.supplies
        if supply.conversion is None
        and (any(_near_pedals(plan, supply)) or any(_near_patches(plan, supply, signals)))
    ]
    asked = {
        "On which side the outlets of {} are": (outlets, "how near an AC lead comes to signal cables"),
        "On which side the mains goes into {}": (inlets, "its distance to signal cables"),
        "Whether direct or alternating current feeds {}": (ends, "its lead's distance to signal cables"),
        "Whether {} is linear or switch-mode": (kinds, "its distance to what picks up its noise"),
    }
    for words, (refs, about) in asked.items():
        if refs:
            named = say_all(called(index, ref) for ref in dict.fromkeys(refs))
            what = f"{words.format(named)} is not recorded, so {about} cannot be checked."
            yield cable_finding("C21", tuple(dict.fromkeys(refs)), what)


def _inlet_matters(plan: BoardPlan, supply: Supply, signals: Sequence[MeasuredRun]) -> bool:
    if supply.mains is None or supply.inlet_side is not None:
        return False
    ways = (mains_run(plan, supply, side) for side in SIDES)
    return any(_could_hum(run, way) for way in ways if way is not None for run in signals)


def _could_hum(run: MeasuredRun, lead: LeadRun) -> bool:
    """Whether the lead, if it carried alternating current, would be too near the run."""
    return run.link.route == lead.route and bool(_say_hum(run, lead))


def _unknown_outlets(plan: BoardPlan, index: PlanIndex, signals: Sequence[MeasuredRun]) -> list[str]:
    """Supplies without a recorded side of the outlets, where an AC lead from some side would be too near."""
    found = []
    for feed in plan.feeds:
        for name in feed.outlets:
            supply, outlet = index.outlets[fold(name)]
            if supply.outlet_side is None and outlet.current != DC:
                leads = (lead for side in SIDES for lead in feed_runs(plan, index, feed, side))
                if any(_could_hum(run, lead) for lead in leads for run in signals):
                    found.append(supply.ref)
    return found
