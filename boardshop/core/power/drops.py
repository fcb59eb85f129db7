"""What the DC leads lose: the loop's resistance, the drop and the voltage at each jack (P04, P29).

The trunk of a chain carries the sum of its jacks and each tail its own jack's current.
The contacts' resistance counts once for a lead, with the trunk.
"""

from dataclasses import dataclass

from boardshop.core.findings import Finding
from boardshop.core.plan import DcLead, Rules, Tail
from boardshop.core.power.connections import Connection, FedJack, Feeding
from boardshop.core.power.pairing import Pairing, pair_up
from boardshop.core.power.rules import Gap, Hit, Missing, say
from boardshop.core.power.voltage import is_starved_on_purpose, sums_to
from boardshop.core.power.wire import conductor_ohm_per_m, loop_resistance_ohm, voltage_drop_mv
from boardshop.core.power.wording import say_jack, say_pedal, say_volts, subjects_of
from boardshop.core.printing import round_percent


@dataclass(frozen=True, slots=True)
class Drop:
    """Unrounded; None where a value it needs is not recorded."""

    pairing: Pairing
    loop_ohm: float | None
    """From the outlet to the jack and back: trunk, contacts and the jack's own tail."""
    drop_mv: float | None
    at_pedal_mv: float | None
    gaps: tuple[Gap, ...]


def list_drops(feeding: Feeding) -> tuple[Drop, ...]:
    """One for each fed jack, in the order of the feeds."""
    rules = feeding.plan.rules
    return tuple(
        measure_drop(rules, connection, number, pair_up(feeding, connection, fed))
        for connection in feeding.connections
        for number, fed in enumerate(connection.jacks)
    )


def measure_drop(rules: Rules, connection: Connection, number: int, pairing: Pairing) -> Drop:
    """The drop to the connection's jack of this number."""
    fed = pairing.fed
    gaps = _gaps_of(connection, number)
    trunk = None if gaps else _loop_of(connection.lead)
    if trunk is None:
        return Drop(pairing, None, None, None, gaps)
    trunk += rules.contact_ohm
    tail = _loop_of(_tail_of(connection, number)) or 0.0
    total = _total_load(connection)
    drop = None
    if total is not None and fed.load_ma is not None:
        drop = voltage_drop_mv(total, trunk) + voltage_drop_mv(fed.load_ma, tail)
    setting = sums_to(pairing)
    at_pedal = None if drop is None or setting is None else setting - drop
    return Drop(pairing, trunk + tail, drop, at_pedal, ())


def loses_too_much(rules: Rules, drop: Drop) -> bool | None:
    """Whether the lead loses more than the shop's part of the nominal voltage; None where that is unknown."""
    nominal = _nominal_of(drop)
    if drop.drop_mv is None or not nominal:
        return None
    return drop.drop_mv * 100 > nominal * rules.drop_percent


def lost_percent(drop: Drop) -> float | None:
    """The drop as a part of the nominal voltage, one decimal; None where either is unknown."""
    nominal = _nominal_of(drop)
    return None if drop.drop_mv is None or not nominal else round_percent(drop.drop_mv * 100 / nominal)


def _nominal_of(drop: Drop) -> int | None:
    """The jack's nominal voltage, else the one chosen on the outlet."""
    nominal = drop.pairing.fed.jack.nominal
    return nominal if nominal is not None else sums_to(drop.pairing)


def judge_drop(rules: Rules, drop: Drop) -> tuple[Finding, ...]:
    """P29 above the shop's percentage of the nominal voltage, P04 below the jack's least voltage."""
    pairing = drop.pairing
    fed = pairing.fed
    subjects = subjects_of(pairing.taps, fed)
    if drop.gaps:
        return say("P29", subjects, Missing(drop.gaps))
    setting = sums_to(pairing)
    nominal = _nominal_of(drop)
    if drop.drop_mv is None or not nominal:
        return ()
    over = bool(loses_too_much(rules, drop))
    found: list[Finding] = []
    if over:
        lost = f"{say_volts(drop.drop_mv)}, {lost_percent(drop)} % of {say_volts(nominal)}"
        says = f"The lead to {say_jack(fed)} loses {lost}; planned are {rules.drop_percent} % at most."
        found += say("P29", subjects, Hit(says))
    if drop.at_pedal_mv is not None and setting is not None:
        found += _judge_arrival(subjects, drop, setting, over=over)
    return tuple(found)


def _judge_arrival(subjects: tuple[str, ...], drop: Drop, setting: int, *, over: bool) -> tuple[Finding, ...]:
    """P04 at the pedal; a setting that is too low by itself is found with the pairing."""
    fed, arrives = drop.pairing.fed, drop.at_pedal_mv or 0
    least = fed.jack.min
    if least is None:
        return say("P04", subjects, Missing((Gap("min", say_jack(fed)),))) if over else ()
    if arrives >= least or setting < least:
        return ()
    severity = "advice" if is_starved_on_purpose(drop.pairing) else None
    says = f"Only {say_volts(arrives)} arrive at {say_pedal(fed.pedal)} and it needs {say_volts(least)}."
    return say("P04", subjects, Hit(says, severity, cure="Use a shorter or thicker lead."))


def _gaps_of(connection: Connection, number: int) -> tuple[Gap, ...]:
    lead, fed = connection.lead, connection.jacks[number]
    if lead is None:
        return (Gap("lead", say_jack(fed)),)
    gaps = _gaps_in(lead, "lead", fed)
    if len(connection.jacks) == 1 and not lead.tails:
        return gaps
    tail = _tail_of(connection, number) or Tail()
    return (*gaps, *_gaps_in(tail, "tail", fed))


def _gaps_in(piece: DcLead | Tail, what: str, fed: FedJack) -> tuple[Gap, ...]:
    gaps = [] if piece.length is not None else [Gap(f"{what} length", say_jack(fed))]
    if piece.mm2 is None and piece.awg is None:
        gaps.append(Gap(f"{what} gauge", say_jack(fed)))
    return tuple(gaps)


def _tail_of(connection: Connection, number: int) -> Tail | None:
    tails = connection.lead.tails if connection.lead else ()
    return tails[number] if number < len(tails) else None


def _loop_of(piece: DcLead | Tail | None) -> float | None:
    if piece is None or piece.length is None:
        return None
    per_m = conductor_ohm_per_m(mm2=piece.mm2, awg=piece.awg)
    return None if per_m is None else loop_resistance_ohm(piece.length, per_m)


def _total_load(connection: Connection) -> int | None:
    loads = [fed.load_ma for fed in connection.jacks]
    known = [load for load in loads if load is not None]
    return sum(known) if len(known) == len(loads) else None
