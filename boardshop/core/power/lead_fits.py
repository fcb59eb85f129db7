"""Whether a DC lead does for a feed: long enough, its plug mates, and it loses no more than is planned."""

from dataclasses import dataclass, replace

from boardshop.core.plan import DcLead, Tail
from boardshop.core.power.connections import Connection, FedJack, Feeding
from boardshop.core.power.drops import Drop, loses_too_much, measure_drop
from boardshop.core.power.lead_ways import Lack, LeadNeed
from boardshop.core.power.matching import judge_connector
from boardshop.core.power.pairing import pair_up
from boardshop.core.power.rules import GAPS, Gap, Hit, Missing
from boardshop.core.power.voltage import is_starved_on_purpose, sums_to
from boardshop.core.power.wording import say_jack, say_taps

GAUGES = (28, 26, 24, 22, 20, 18, 16)
"""Sold for DC leads, thinnest first: common practice."""


@dataclass(frozen=True, slots=True)
class Fit:
    """``does`` is None where ``lacks`` keep it from being told; ``why_not`` a clause about the lead."""

    does: bool | None
    why_not: str = ""
    lacks: tuple[Lack, ...] = ()
    short_mm: int | None = None
    """Its length, where that is too little."""


def fit_lead(feeding: Feeding, connection: Connection, lead: DcLead, needed_mm: int | None) -> Fit:
    """This lead tried on the connection in place of its own; ``needed_mm`` None where nobody can tell."""
    if lead.length is None:
        return Fit(None, "the length of some is not recorded")
    if needed_mm is not None and lead.length < needed_mm:
        return Fit(False, short_mm=lead.length)
    if lead.mm2 is None and lead.awg is None:
        return Fit(None, f"the gauge of the {lead.length} mm ones is not recorded")
    tried = replace(connection, lead=lead)
    plugs = _fit_plugs(feeding, tried)
    wire = _fit_wire(feeding, tried)
    for fit in (plugs, wire):
        if fit.does is False:
            return fit
    lacks = (*plugs.lacks, *wire.lacks)
    return Fit(None, lacks=tuple(dict.fromkeys(lacks))) if lacks or needed_mm is None else Fit(True)


def thinnest_gauge(feeding: Feeding, connection: Connection, need: LeadNeed) -> tuple[int | None, Fit]:
    """The thinnest usual gauge with which a lead of the needed length does, and how the last one fits.

    The gauge is None where even the thickest loses too much, or where it cannot be told.
    """
    fit, plugs = Fit(None), _fit_plugs(feeding, replace(connection, lead=None))
    for awg in GAUGES:
        tails = tuple(Tail(tail.mm, awg=awg) for tail in need.tails)
        lead = DcLead(need.mm, awg=awg, connector=None, tails=tails)
        fit = _fit_wire(feeding, replace(connection, lead=lead))
        if fit.does is not False:
            return (awg if fit.does else None), replace(fit, lacks=(*plugs.lacks, *fit.lacks))
    return None, fit


def list_trial_drops(feeding: Feeding, connection: Connection, lead: DcLead) -> tuple[Drop, ...]:
    """What this lead would lose to each jack of the connection."""
    tried = replace(connection, lead=lead)
    return tuple(_drop_to(feeding, tried, number) for number in range(len(tried.jacks)))


def _drop_to(feeding: Feeding, connection: Connection, number: int) -> Drop:
    pairing = pair_up(feeding, connection, connection.jacks[number])
    return measure_drop(feeding.plan.rules, connection, number, pairing)


def _fit_plugs(feeding: Feeding, connection: Connection) -> Fit:
    lacks: list[Lack] = []
    for fed in connection.jacks:
        outcome = judge_connector(pair_up(feeding, connection, fed))
        if isinstance(outcome, Hit):
            return Fit(False, f"the plug of some does not mate with {fed.ref}")
        if isinstance(outcome, Missing):
            lacks += [_lack_of(gap) for gap in outcome.gaps]
    return Fit(None, lacks=tuple(lacks)) if lacks else Fit(True)


def _fit_wire(feeding: Feeding, connection: Connection) -> Fit:
    lacks: list[Lack] = []
    for number, fed in enumerate(connection.jacks):
        drop = _drop_to(feeding, connection, number)
        if loses_too_much(feeding.plan.rules, drop):
            return Fit(False, f"it loses more than {feeding.plan.rules.drop_percent} % to {fed.ref}")
        if _arrives_low(drop):
            return Fit(False, f"less than its least voltage arrives at {fed.ref}")
        lacks += [_lack_of(gap) for gap in _gaps_of(connection, drop, fed)]
    return Fit(None, lacks=tuple(dict.fromkeys(lacks))) if lacks else Fit(True)


def _arrives_low(drop: Drop) -> bool:
    """Below the jack's least voltage, unless an analog pedal is starved on purpose."""
    least = drop.pairing.fed.jack.min
    if drop.at_pedal_mv is None or least is None or is_starved_on_purpose(drop.pairing):
        return False
    return drop.at_pedal_mv < least


def _gaps_of(connection: Connection, drop: Drop, fed: FedJack) -> tuple[Gap, ...]:
    """What keeps the drop, or what arrives, from being told."""
    if drop.gaps:
        return drop.gaps
    gaps = [Gap("load", say_jack(one)) for one in connection.jacks if one.load_ma is None]
    if sums_to(drop.pairing) is None:
        gaps.append(Gap("chosen setting", say_taps(connection.taps)))
    return tuple(gaps)


def _lack_of(gap: Gap) -> Lack:
    what, way_out = GAPS[gap.kind]
    page = "power" if gap.kind.startswith(("lead", "tail", "chosen")) else "gear"
    return Lack(what.format(gap.owner), way_out, page)
