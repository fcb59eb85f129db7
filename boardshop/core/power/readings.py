"""What a meter reading at a plug says: the rules of power, applied to what arrives instead of to the plan.

Nothing here calls a feed safe: the best word is that it is as planned.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan, Pedal
from boardshop.core.power import joining, voltage
from boardshop.core.power.connections import Feeding, Tap, make_feeding
from boardshop.core.power.first_power import PowerStep
from boardshop.core.power.loads import (
    add_up_group,
    add_up_outlet,
    add_up_supply,
    judge_group,
    judge_outlets,
    judge_supply,
)
from boardshop.core.power.matching import judge_ac_into_dc, judge_dc_into_ac, judge_polarity
from boardshop.core.power.pairing import Pairing
from boardshop.core.power.rules import Gap, Hit, Missing, Outcome, say
from boardshop.core.power.wording import say_jack, say_volts, subjects_of
from boardshop.core.vocabulary import NEVER_KEPT, POLARITIES

TOLERANCE_PERCENT = 5
"""So far from what is planned a reading still counts as planned: common practice for regulated outlets, the
meter's own error included."""

READ_AS = (*POLARITIES, "ac")
"""What can be seen at a plug."""

METERED_RULES = ("P01", "P03", "P05")
"""What bars a feed and a reading answers anew; what else bars it does so whatever the meter reads."""

NOT_METERED = "not metered"
DO_NOT_PLUG = "do not plug"
PUT_RIGHT = "put right first"
CANNOT_BE_TOLD = "cannot be told"
OFF_PLAN = "not as planned"
AS_PLANNED = "as planned"
STATES = (DO_NOT_PLUG, PUT_RIGHT, CANNOT_BE_TOLD, OFF_PLAN, NOT_METERED, AS_PLANNED)
"""Worst first."""

_BY_SEVERITY = {
    "danger": DO_NOT_PLUG,
    "damage": DO_NOT_PLUG,
    "fault": PUT_RIGHT,
    "unknown": CANNOT_BE_TOLD,
    "caution": OFF_PLAN,
}


@dataclass(frozen=True, slots=True)
class Reading:
    """What was metered at one plug; None where it was not."""

    mv: int | None = None
    """At the open plug, without its sign."""
    polarity: str | None = None
    """One of `READ_AS`."""
    load_ma: int | None = None
    """With the pedal on the plug."""

    @property
    def current(self) -> str | None:
        return None if self.polarity is None else "ac" if self.polarity == "ac" else "dc"


def judge_reading(
    step: PowerStep, reading: Reading, other_loads: Mapping[str, int] | None = None
) -> tuple[Finding, ...]:
    """All that a reading says against this plug, and what it leaves open, worst first."""
    return sort_findings([*judge_plug(step, reading), *judge_load(step, reading.load_ma, other_loads)])


def judge_plug(step: PowerStep, reading: Reading) -> tuple[Finding, ...]:
    """Before the pedal meets it: what bars the feed, then voltage, kind of current and polarity as read."""
    if reading.mv is None:
        return step.barred_by
    found = [one for one in step.barred_by if one.rule not in METERED_RULES]
    subjects = subjects_of(step.pairing.taps, step.fed)
    if reading.mv == 0:
        return sort_findings([*found, *say("P30", subjects, _nothing_arrives(step))])
    tests = [("P03", _judge_over(step, reading)), ("P04", _judge_under(step, reading))]
    metered = _pairing_as_read(step, reading, reading.mv)
    if reading.polarity is None:
        tests.append(("P05", None if step.pairing.is_keyed else _polarity_unread(step)))
    else:
        tests += [("P01", judge_ac_into_dc(metered)), ("P02", judge_dc_into_ac(metered))]
        tests.append(("P05", judge_polarity(metered)))
    for rule_id, outcome in tests:
        found += say(rule_id, subjects, outcome)
    found += _compare_volts(step, reading.mv, subjects)
    if not any(one.rule in ("P01", "P02", "P05") and one.severity in ("damage", "fault") for one in found):
        found += say("P05", subjects, _compare_kind(step, reading))
    return sort_findings(found)


def judge_load(
    step: PowerStep, load_ma: int | None, other_loads: Mapping[str, int] | None = None
) -> tuple[Finding, ...]:
    """With the pedal on: against the limits of outlet, group and supply, and against the pedal's label.

    `other_loads` are the readings at other plugs, mA by jack; without one a jack counts as it is recorded.
    """
    if load_ma is None:
        return ()
    read = {fold(end): ma for end, ma in (other_loads or {}).items()} | {fold(step.end): load_ma}
    feeding = make_feeding(_with_draws(step.feeding.plan, read))
    found = [*_judge_limits(feeding, step)]
    subjects = subjects_of(step.pairing.taps, step.fed)
    if load_ma == 0:
        cure = "See whether the pedal is switched on and lights up, then meter it again."
        found += say("P30", subjects, Hit(f"{say_jack(step.fed)} draws nothing.", "caution", cure, ""))
    rated = step.jack.rated
    if rated is not None and load_ma > rated:
        says = f"{say_jack(step.fed)} draws {load_ma} mA and its label says {rated} mA."
        cure = "Meter it once more; if it stays, plan with the measured figure."
        found += say("P27", subjects, Hit(says, "caution", cure, ""))
    return sort_findings(found)


def name_state(findings: Iterable[Finding], *, is_read: bool) -> str:
    """One of `STATES` for what was found at a plug or of a load; mere advice leaves it as planned."""
    worst = next((_BY_SEVERITY[one.severity] for one in findings if one.severity in _BY_SEVERITY), None)
    if worst == DO_NOT_PLUG or (worst is not None and is_read):
        return worst
    return AS_PLANNED if is_read else NOT_METERED


def bars_plugging(findings: Iterable[Finding]) -> bool:
    return any(one.severity in NEVER_KEPT for one in findings)


def _pairing_as_read(step: PowerStep, reading: Reading, mv: int) -> Pairing:
    """The plug as an outlet that gives what was read: adapters and no-load factors lie behind it."""
    pairing, first = step.pairing, step.pairing.taps[0]
    outlet = replace(
        first.outlet,
        current=reading.current or step.current,
        settings=(),
        polarity=reading.polarity if reading.polarity in POLARITIES else None,
        regulated=True,
        sag=any(tap.outlet.sag for tap in pairing.taps),
    )
    tap = Tap(f"{' + '.join(step.outlets)} at the plug", first.supply, outlet, mv, None)
    return replace(pairing, taps=(tap,), joining="single", adapters=())


def _judge_over(step: PowerStep, reading: Reading) -> Outcome:
    """P03; where only the label is known, what lies within the tolerance counts as the label."""
    mv = _as_labelled(step, reading) if step.jack.max is None else reading.mv or 0
    return voltage.judge_over_voltage(_pairing_as_read(step, reading, mv))


def _judge_under(step: PowerStep, reading: Reading) -> Outcome:
    """P04, likewise."""
    mv = _as_labelled(step, reading) if step.jack.min is None else reading.mv or 0
    return voltage.judge_under_voltage(_pairing_as_read(step, reading, mv))


def _as_labelled(step: PowerStep, reading: Reading) -> int:
    mv, label = reading.mv or 0, step.jack.nominal
    return label if label is not None and _is_near(mv, label, label) else mv


def _is_near(mv: int, low: float, high: float) -> bool:
    """Within the tolerance around both; the bounds themselves count."""
    return low * (100 - TOLERANCE_PERCENT) <= mv * 100 <= high * (100 + TOLERANCE_PERCENT)


def _nothing_arrives(step: PowerStep) -> Hit:
    return Hit(
        f"Nothing arrives at the plug for {say_jack(step.fed)}.",
        cure="Look for the outlet's switch, a fuse, a tripped outlet or a broken lead, then meter it again.",
    )


def _polarity_unread(step: PowerStep) -> Hit:
    return Hit(
        f"The polarity at the plug for {say_jack(step.fed)} was not read.",
        "unknown",
        "Meter it: black probe on the sleeve, red probe in the bore; a minus sign means centre-negative.",
        "A reversed polarity destroys a pedal that has no protection against it.",
    )


def _compare_volts(step: PowerStep, mv: int, subjects: tuple[str, ...]) -> tuple[Finding, ...]:
    """Against the plan: the switch may stand elsewhere, or it may be another outlet's lead."""
    span = step.span
    if span is None:
        return _say_unplanned(step, subjects)
    if _is_near(mv, span.open_low, span.open_high):
        return ()
    low, high = span.open_low, span.open_high
    planned = say_volts(low) if low == high else f"{say_volts(low)} to {say_volts(high)}"
    says = f"The plug for {say_jack(step.fed)} reads {say_volts(mv)} where {planned} is planned."
    usual = f"Up to {TOLERANCE_PERCENT} % off is usual"
    why = f"{usual}; an AC outlet may read higher without load." if step.current == "ac" else f"{usual}."
    rule_id, cure = (
        "P28",
        "See whether the lead comes from the planned outlet, or record the outlet as it is.",
    )
    if step.can_be_turned:
        rule_id, cure = "P24", "See where the outlet's switch stands, set and lock it, then meter again."
    return say(rule_id, subjects, Hit(says, "caution", cure, why))


def _say_unplanned(step: PowerStep, subjects: tuple[str, ...]) -> tuple[Finding, ...]:
    """Which voltage is planned is not recorded, so nobody can tell whether this is it."""
    setting = voltage.judge_setting(step.pairing)
    if isinstance(setting, Missing):
        return say("P28", subjects, setting)
    return say("P15", subjects, joining.judge_how_joined(step.pairing))


def _compare_kind(step: PowerStep, reading: Reading) -> Outcome:
    """Not what the plan leads to, though the jack may take it: then the lead is not the recorded one."""
    seen = reading.polarity
    is_other_kind = step.current is not None and reading.current != step.current
    planned = step.current if is_other_kind else step.polarity
    if seen is None or planned is None or seen == planned:
        return None
    return Hit(
        f"The plug for {say_jack(step.fed)} reads {_say_kind(seen)} where the plan leads to "
        f"{_say_kind(planned)}.",
        "caution",
        "See which outlet and which adapters are in this lead, and record them as they are.",
        "",
    )


def _say_kind(kind: str | None) -> str:
    return kind.upper() if kind in ("ac", "dc") else str(kind)


def _with_draws(plan: BoardPlan, read: Mapping[str, int]) -> BoardPlan:
    """The plan as if what was read were each jack's measured draw."""
    return replace(plan, pedals=tuple(_with_own_draws(pedal, read) for pedal in plan.pedals))


def _with_own_draws(pedal: Pedal, read: Mapping[str, int]) -> Pedal:
    power = tuple(
        replace(jack, measured=read.get(fold(f"{pedal.ref}.{jack.name}"), jack.measured))
        for jack in pedal.power
    )
    return pedal if power == pedal.power else replace(pedal, power=power)


def _judge_limits(feeding: Feeding, step: PowerStep) -> tuple[Finding, ...]:
    """P08 and P10; unknown where a limit, or what else hangs on the outlet, is not recorded."""
    taps = step.pairing.taps
    loads = [add_up_outlet(feeding, tap.supply, tap.outlet) for tap in taps]
    found = [one for one in judge_outlets(feeding, loads) if one.rule == "P08"]
    subjects = subjects_of(taps, step.fed)
    if not found and all(load.load.limit is None for load in loads):
        found += say("P08", subjects, Missing(tuple(Gap("limit", tap.ref) for tap in taps)))
    untold = {
        fed.ref: Gap("load", say_jack(fed)) for one in loads for fed in one.load.jacks if fed.load_ma is None
    }
    if untold and not any(one.severity in ("fault", "unknown") for one in found):
        found += say("P08", subjects, Missing(tuple(untold.values())))
    grouped = {fold(tap.return_ref): tap for tap in taps if tap.outlet.group is not None}
    for tap in grouped.values():
        group = judge_group(feeding, add_up_group(feeding, tap.supply, str(tap.outlet.group)))
        found += [one for one in group if one.rule == "P08"]
    for supply in {fold(tap.supply.ref): tap.supply for tap in taps}.values():
        found += judge_supply(feeding, add_up_supply(feeding, supply))
    return tuple(found)
