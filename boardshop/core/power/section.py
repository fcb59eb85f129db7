"""The report's power section: loads, drops, what waits for a feed, and every power finding."""

from dataclasses import dataclass, field

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.plan import BoardPlan
from boardshop.core.power.connections import Feeding, make_feeding
from boardshop.core.power.drops import Drop, judge_drop, list_drops
from boardshop.core.power.loads import (
    Load,
    OutletLoad,
    Standing,
    add_up_group,
    add_up_outlet,
    add_up_supply,
    judge_group,
    judge_outlets,
    judge_standing,
    judge_supply,
    list_groups,
)
from boardshop.core.power.mains import (
    judge_mains,
    judge_pedals,
    judge_protective_earth,
    judge_unfed,
    list_unfed,
)
from boardshop.core.power.matching import judge_pair
from boardshop.core.power.pairing import pair_up
from boardshop.core.power.sharing import judge_all_returns, judge_outlet_sharing
from boardshop.core.printing import UNPRINTED, round_ohm, round_percent, round_whole


@dataclass(frozen=True, slots=True)
class OutletRow:
    """mV, mA and percent; setting and limit None where nothing is fed or they are unknown."""

    ref: str
    setting_mv: int | None
    load_ma: int
    limit_ma: int | None
    load_percent: float | None
    feeds: tuple[str, ...]
    is_partial: bool = field(default=False, metadata=UNPRINTED)
    """A jack's draw is not recorded, so load and percentage are the least that they can be."""
    spare_ma: int | None = field(default=None, metadata=UNPRINTED)
    """What the limit leaves, below zero what is too much; None without a limit.

    The most that it can be where `is_partial`.
    """
    standing: Standing = field(default="free", metadata=UNPRINTED)

    @property
    def excess_ma(self) -> int:
        """What is too much for the limit; 0 where nothing is."""
        return max(0, -(self.spare_ma or 0))


@dataclass(frozen=True, slots=True)
class SumRow:
    """A group or a supply; the setting where all its fed outlets have one and the same.

    A group is limited in mA and a supply in mW; the percentage is of that limit.
    """

    ref: str
    setting_mv: int | None
    load_ma: int
    limit_ma: int | None
    load_percent: float | None
    feeds: tuple[str, ...]
    load_mw: int
    limit_mw: int | None
    is_partial: bool = field(default=False, metadata=UNPRINTED)
    """A jack's draw is not recorded, so the mA are the least that they can be."""
    is_mw_partial: bool = field(default=False, metadata=UNPRINTED)
    """A draw or the setting of a loaded outlet is not recorded, so the mW are the least they can be."""
    spare: int | None = field(default=None, metadata=UNPRINTED)
    """What the limit leaves, in its unit, below zero what is too much; None without a limit."""
    standing: Standing = field(default="free", metadata=UNPRINTED)

    @property
    def excess(self) -> int:
        """What is too much for the limit, in its unit; 0 where nothing is."""
        return max(0, -(self.spare or 0))

    @property
    def is_percent_partial(self) -> bool:
        """Of a supply's limit in mW, of a group's in mA."""
        return self.is_partial if self.limit_mw is None else self.is_mw_partial


@dataclass(frozen=True, slots=True)
class DropRow:
    from_: str | tuple[str, ...]
    """The outlet, or a list of those joined for this jack."""
    to: str
    loop_ohm: float | None
    drop_mv: int | None
    at_pedal_mv: int | None


@dataclass(frozen=True, slots=True)
class PowerSection:
    outlets: tuple[OutletRow, ...]
    groups: tuple[SumRow, ...]
    supplies: tuple[SumRow, ...]
    drops: tuple[DropRow, ...]
    unfed: tuple[str, ...]
    findings: tuple[Finding, ...]


def compute_power(plan: BoardPlan) -> PowerSection:
    """Every outlet, group, supply and fed jack of the plan, and all that is wrong or unknown about them."""
    feeding = make_feeding(plan)
    outlets = tuple(add_up_outlet(feeding, s, o) for s in plan.supplies for o in s.outlets)
    groups = tuple(add_up_group(feeding, s, group) for s in plan.supplies for group in list_groups(s))
    supplies = tuple(add_up_supply(feeding, supply) for supply in plan.supplies)
    drops = list_drops(feeding)
    findings = [
        *judge_outlets(feeding, outlets),
        *(finding for group in groups for finding in judge_group(feeding, group)),
        *(finding for supply in supplies for finding in judge_supply(feeding, supply)),
        *(finding for drop in drops for finding in judge_drop(plan.rules, drop)),
        *_judge_feeding(feeding),
        *_judge_units(feeding),
        *judge_unfed(plan),
    ]
    return PowerSection(
        outlets=tuple(print_outlet(plan, load) for load in outlets),
        groups=tuple(print_sum(plan, load, in_mw=False) for load in groups),
        supplies=tuple(print_sum(plan, load, in_mw=True) for load in supplies),
        drops=tuple(_print_drop(drop) for drop in drops),
        unfed=list_unfed(plan),
        findings=sort_findings(findings),
    )


def _judge_feeding(feeding: Feeding) -> tuple[Finding, ...]:
    pairs = (pair_up(feeding, c, fed) for c in feeding.connections for fed in c.jacks)
    outlets = [f"{s.ref}.{o.name}" for s in feeding.plan.supplies for o in s.outlets]
    return (
        *(finding for pairing in pairs for finding in judge_pair(pairing)),
        *(finding for ref in outlets for finding in judge_outlet_sharing(feeding, ref)),
        *judge_all_returns(feeding),
    )


def _judge_units(feeding: Feeding) -> tuple[Finding, ...]:
    plan = feeding.plan
    earths = ((s.ref, s.protection_class, s.earthed) for s in plan.supplies)
    return (
        *(finding for supply in plan.supplies for finding in judge_mains(supply, plan.venue)),
        *(finding for earth in earths for finding in judge_protective_earth(*earth)),
        *judge_pedals(feeding),
    )


def print_outlet(plan: BoardPlan, outlet: OutletLoad) -> OutletRow:
    load = outlet.load
    return OutletRow(
        load.ref,
        load.setting_mv,
        round_whole(float(load.load_ma)),
        load.limit,
        None if outlet.tap is None else _print_percent(load, in_mw=False),
        tuple(fed.ref for fed in load.jacks),
        load.is_partial,
        _leave(load, in_mw=False),
        _say_standing(plan, load, in_mw=False),
    )


def print_sum(plan: BoardPlan, load: Load, *, in_mw: bool) -> SumRow:
    return SumRow(
        ref=load.ref,
        setting_mv=load.setting_mv,
        load_ma=round_whole(float(load.load_ma)),
        limit_ma=None if in_mw else load.limit,
        load_percent=_print_percent(load, in_mw=in_mw),
        feeds=tuple(fed.ref for fed in load.jacks),
        load_mw=round_whole(float(load.load_mw)),
        limit_mw=load.limit if in_mw else None,
        is_partial=load.is_partial,
        is_mw_partial=load.is_mw_partial,
        spare=_leave(load, in_mw=in_mw),
        standing=_say_standing(plan, load, in_mw=in_mw),
    )


def _leave(load: Load, *, in_mw: bool) -> int | None:
    """The limit less the printed load, so that the three numbers add up where they stand side by side."""
    amount = load.load_mw if in_mw else load.load_ma
    return None if load.limit is None else load.limit - round_whole(float(amount))


def _say_standing(plan: BoardPlan, load: Load, *, in_mw: bool) -> Standing:
    amount, is_partial = (load.load_mw, load.is_mw_partial) if in_mw else (load.load_ma, load.is_partial)
    return judge_standing(load, amount, is_partial=is_partial, planned_percent=plan.rules.planned_percent)


def _print_percent(load: Load, *, in_mw: bool) -> float | None:
    percent = load.percent_of(load.load_mw if in_mw else load.load_ma)
    return None if percent is None else round_percent(float(percent))


def _print_drop(drop: Drop) -> DropRow:
    taps = drop.pairing.taps
    return DropRow(
        from_=taps[0].ref if len(taps) == 1 else tuple(tap.ref for tap in taps),
        to=drop.pairing.fed.ref,
        loop_ohm=None if drop.loop_ohm is None else round_ohm(drop.loop_ohm),
        drop_mv=None if drop.drop_mv is None else round_whole(drop.drop_mv),
        at_pedal_mv=None if drop.at_pedal_mv is None else round_whole(drop.at_pedal_mv),
    )
