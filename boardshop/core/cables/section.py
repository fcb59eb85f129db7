"""The cables section of the report: runs, cut plan, parts and findings."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from boardshop.core.cables.checks import check_cables
from boardshop.core.cables.cut_plan import REPORT_SECONDS, CutPlan, pieces_to_cut, plan_cuts
from boardshop.core.cables.routing import Corner
from boardshop.core.cables.rules import cable_finding
from boardshop.core.cables.runs import cable_length, link_capacitances, measure_runs
from boardshop.core.findings import Finding, sort_findings
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan, Link


@dataclass(frozen=True, slots=True)
class Run:
    """A link that is cut; numbers are None when it is blocked or something it needs is not recorded."""

    ref: str
    path_mm: int | None
    corners: tuple[Corner, ...]
    cut_mm: int | None
    pf: int | None
    blocked_by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlugCount:
    """``to_fit`` on links that are cut, ``in_all`` on every link."""

    plug: str
    to_fit: int
    in_all: int


@dataclass(frozen=True, slots=True)
class CableCount:
    """Links of one cable type by how they come: cut, made already, or a lead of given length."""

    cable: str
    cut: int
    cut_mm: int
    made: int
    made_mm: int
    leads: int
    leads_mm: int


@dataclass(frozen=True, slots=True)
class Parts:
    plugs: tuple[PlugCount, ...]
    cables: tuple[CableCount, ...]


@dataclass(frozen=True, slots=True)
class CablesSection:
    runs: tuple[Run, ...]
    cut_total_mm: int
    cut_plan: CutPlan
    parts: Parts
    findings: tuple[Finding, ...]


def compute_cables(plan: BoardPlan, cut_seconds: float = REPORT_SECONDS) -> CablesSection:
    """``cut_seconds`` is the work put into the cut plan, as `plan_cuts` takes it."""
    runs = list_runs(plan)
    cut_plan = plan_cuts(plan, cut_seconds)
    return CablesSection(
        runs=runs,
        cut_total_mm=sum(run.cut_mm for run in runs if run.cut_mm is not None),
        cut_plan=cut_plan,
        parts=count_parts(plan),
        findings=sort_findings([*check_cables(plan), *check_stock(plan, cut_plan)]),
    )


def list_runs(plan: BoardPlan) -> tuple[Run, ...]:
    """The links to cut, in the plan's order."""
    pf = link_capacitances(plan)
    return tuple(
        Run(run.link.ref, run.path_mm, run.corners, run.cut_mm, pf[fold(run.link.ref)], run.blocked_by)
        for run in measure_runs(plan)
        if run.is_cut
    )


def count_parts(plan: BoardPlan) -> Parts:
    """Plugs and cables on the board's links; a run whose cut is not known counts with no length."""
    cuts = {fold(run.link.ref): run.cut_mm for run in measure_runs(plan)}
    to_fit = Counter(plug for link in plan.links if _comes(link) == "cut" for plug in _plugs_of(link))
    in_all = Counter(plug for link in plan.links for plug in _plugs_of(link))
    plugs = ((plug.ref, fold(plug.ref)) for plug in plan.plugs)
    cables = []
    for cable in plan.cables:
        own = [link for link in plan.links if link.cable is not None and fold(link.cable) == fold(cable.ref)]
        numbers: list[int] = []
        for way in ("cut", "made", "lead"):
            lengths = [
                cable_length(link, cuts.get(fold(link.ref))) or 0 for link in own if _comes(link) == way
            ]
            numbers += [len(lengths), sum(lengths)]
        if own:
            cables.append(CableCount(cable.ref, *numbers))
    return Parts(
        plugs=tuple(PlugCount(ref, to_fit[key], in_all[key]) for ref, key in plugs if in_all[key]),
        cables=tuple(cables),
    )


def check_stock(plan: BoardPlan, cut_plan: CutPlan) -> Iterator[Finding]:
    """Pieces that the stock does not yield; nothing where no stock is recorded at all."""
    if not plan.stock:
        return
    short = set(cut_plan.short)
    for cable, pieces in pieces_to_cut(plan).items():
        lacking = [piece for piece in pieces if piece in short]
        if lacking:
            ref = next(c.ref for c in plan.cables if fold(c.ref) == cable)
            names, length = ", ".join(name for name, _ in lacking), sum(mm for _, mm in lacking)
            what = f"The stock of cable {ref} does not yield {names}: {length} mm of pieces cannot be cut."
            yield cable_finding("C08", (ref,), what)


def _comes(link: Link) -> str:
    if link.length is not None:
        return "lead"
    return "cut" if link.made is None else "made"


def _plugs_of(link: Link) -> list[str]:
    return [fold(plug) for plug in (link.plug_from, link.plug_to) if plug is not None]
