"""Finished cables instead of cut ones: for each run the shortest that reaches.

A finished cable's length is that between its plugs; it reaches when it is as long as the run with its slack.
Its plugs may stand out differently from those the run was measured with, so it is tried before it is bought.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from boardshop.core.cables.cut_cost import Cost, cost_of_cuts
from boardshop.core.cables.cut_length import capacitance, cut_length
from boardshop.core.cables.cut_list import cable_kind, channels_of
from boardshop.core.cables.rules import connectors_mate
from boardshop.core.cables.runs import MeasuredRun, link_capacitances, measure_runs
from boardshop.core.index import PlanIndex, fold, index_plan
from boardshop.core.plan import BoardPlan, Link

MOST_TIMES, MOST_SPARE_MM = 2, 150
"""A cable may be twice as long as needed, or have so much to spare; more lies in loops.  From memory."""


@dataclass(frozen=True, slots=True)
class ReadyMade:
    """One sort of finished cable; ``length`` between its plugs, ``count`` in hand."""

    name: str
    length: int
    connector: str | None = None
    far_connector: str | None = None
    pf_per_m: int | None = None
    price: float | None = None
    count: int = 0

    @property
    def pf(self) -> int | None:
        return None if self.pf_per_m is None else capacitance(self.length, self.pf_per_m)


@dataclass(frozen=True, slots=True)
class RunChoice:
    """One run: ``needed_mm`` between its plugs with slack, what serves it, else ``why`` nothing does.

    ``why`` is `unknown length`, `unknown plugs`, `no such plugs`, `too short` or `too long`.
    """

    ref: str
    needed_mm: int | None
    offer: ReadyMade | None = None
    why: str = ""
    cut_pf: int | None = None

    @property
    def more_pf(self) -> int | None:
        """How much more the finished cable has than the cut one; None where either is unknown."""
        if self.offer is None or self.offer.pf is None or self.cut_pf is None:
            return None
        return self.offer.pf - self.cut_pf


@dataclass(frozen=True, slots=True)
class OfferUse:
    """One sort and the runs it does for; ``to_buy`` is what is not in hand."""

    offer: ReadyMade
    refs: tuple[str, ...]
    to_buy: int


@dataclass(frozen=True, slots=True)
class ReadyMadeAnswer:
    """``cut`` and ``bought`` are the cost of the runs in ``uses`` either way."""

    choices: tuple[RunChoice, ...]
    uses: tuple[OfferUse, ...]
    cut: Cost
    bought: Cost
    to_pay: Cost
    unknown_plugs: tuple[str, ...]
    """Sorts that are offered for nothing, since their plugs are not recorded."""


def choose_ready_made(plan: BoardPlan, offers: Sequence[ReadyMade]) -> ReadyMadeAnswer:
    """For every link that would be cut; of equally long ones the less capacitance, then the lower price."""
    known = [one for one in offers if one.connector and one.far_connector]
    pf = link_capacitances(plan)
    choices = tuple(
        replace(_choose(plan, run, known), cut_pf=pf[fold(run.link.ref)])
        for run in measure_runs(plan)
        if run.is_cut
    )
    uses = _group(choices)
    refs = [ref for use in uses for ref in use.refs]
    return ReadyMadeAnswer(
        choices=choices,
        uses=uses,
        cut=cost_of_cuts(plan, refs),
        bought=_price([(use.offer, len(use.refs)) for use in uses]),
        to_pay=_price([(use.offer, use.to_buy) for use in uses]),
        unknown_plugs=tuple(one.name for one in offers if one not in known),
    )


def needed_between_plugs(plan: BoardPlan, run: MeasuredRun) -> int | None:
    """Along the run with the rules' slack, in whole mm; None where the run is not known."""
    if run.length_mm is None:
        return None
    return cut_length(run.length_mm, 0, replace(plan.rules, round_up_mm=0))


def _choose(plan: BoardPlan, run: MeasuredRun, offers: Sequence[ReadyMade]) -> RunChoice:
    ref, needed = run.link.ref, needed_between_plugs(plan, run)
    if needed is None or any(lack.kind == "lead" for lack in run.missing):
        return RunChoice(ref, None, why="unknown length")
    index = index_plan(plan)
    wanted = _wanted_plugs(index, run.link)
    if None in wanted:
        return RunChoice(ref, needed, why="unknown plugs")
    mating = [one for one in offers if _mates(index, run.link, one, wanted)]
    if not mating:
        return RunChoice(ref, needed, why="no such plugs")
    reaching = [one for one in mating if one.length >= needed]
    if not reaching:
        return RunChoice(ref, needed, why="too short")
    best = min(reaching, key=_worth)
    if best.length > max(MOST_TIMES * needed, needed + MOST_SPARE_MM):
        return RunChoice(ref, needed, why="too long")
    return RunChoice(ref, needed, best)


def _worth(one: ReadyMade) -> tuple[object, ...]:
    """Smaller is better; unknown last."""
    pf, price = one.pf_per_m, one.price
    return one.length, pf is None, pf or 0, price is None, price or 0, one.name


def _wanted_plugs(index: PlanIndex, link: Link) -> tuple[str | None, str | None]:
    """Of each end's jack, else of the plug that was chosen for it."""
    ends = ((link.source, link.plug_from), (link.target, link.plug_to))
    return _wanted_at(index, *ends[0]), _wanted_at(index, *ends[1])


def _wanted_at(index: PlanIndex, end: str, plug_ref: str | None) -> str | None:
    connector: str | None = getattr(index.jacks.get(fold(end)), "connector", None)
    plug = index.plugs.get(fold(plug_ref)) if plug_ref else None
    return connector or (plug.connector if plug is not None else None)


def _mates(index: PlanIndex, link: Link, offer: ReadyMade, wanted: tuple[str | None, str | None]) -> bool:
    """Either way round; only a mono signal may have a plug of fewer or more poles than its jack."""
    is_mono = cable_kind(index, link) not in ("midi", "control", "usb") and channels_of(index, link) == "mono"
    one, other = offer.connector, offer.far_connector

    def goes(plug: str | None, jack: str | None) -> bool:
        if plug is None or jack is None:
            return False
        return connectors_mate(plug, jack) if is_mono else plug == jack

    straight = goes(one, wanted[0]) and goes(other, wanted[1])
    return straight or (goes(other, wanted[0]) and goes(one, wanted[1]))


def _group(choices: Sequence[RunChoice]) -> tuple[OfferUse, ...]:
    """Shortest first."""
    refs: dict[ReadyMade, list[str]] = {}
    for choice in choices:
        if choice.offer is not None:
            refs.setdefault(choice.offer, []).append(choice.ref)
    uses = (OfferUse(offer, tuple(of), max(0, len(of) - offer.count)) for offer, of in refs.items())
    return tuple(sorted(uses, key=lambda use: (use.offer.length, use.offer.name)))


def _price(counted: Sequence[tuple[ReadyMade, int]]) -> Cost:
    wanted = [(offer, n) for offer, n in counted if n]
    total = sum((Decimal(str(one.price)) * n for one, n in wanted if one.price is not None), Decimal(0))
    return Cost(total, tuple(one.name for one, _ in wanted if one.price is None))
