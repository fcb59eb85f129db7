"""Rules of pedals that share a return or an outlet: P06, P11, P12, P13, P19 and P23.

Pairs of pedals are named by both refs, in the plan's order.
"""

from collections.abc import Iterable, Mapping
from itertools import product

from boardshop.core.findings import Finding
from boardshop.core.index import fold
from boardshop.core.power.connections import Connection, FedJack, Feeding
from boardshop.core.power.rules import Gap, Hit, Missing, say
from boardshop.core.power.wording import say_jack, say_jacks, say_pedal, say_taps, subjects_of
from boardshop.core.screens import number_joined_units

HIGH_GAIN_KINDS = ("fuzz", "overdrive", "distortion", "preamp")
"""Kinds whose analog circuits amplify a whine into earshot; common practice."""

HIGH_GAIN_CIRCUITS = ("analog", "tube")

CHAIN_PERCENT = 80
CHAIN_JACKS = 5
"""A chain carries at most so much of the limit and so many pedals; common practice."""


def judge_return(feeding: Feeding, key: str, joined_units: Mapping[str, int]) -> tuple[Finding, ...]:
    """All that the pedals on one return do to each other; ``joined_units`` as `number_joined_units` gives."""
    connections = feeding.by_return.get(key, ())
    place = {ref: number for number, ref in enumerate(feeding.index.power_jacks)}
    jacks = tuple(jack for connection in connections for jack in connection.jacks)
    jacks = tuple(sorted(jacks, key=lambda fed: (place.get(fold(fed.ref), len(place)), fed.ref)))
    if len(jacks) < 2:
        return ()
    outlets = {fed.ref: connection for connection in connections for fed in connection.jacks}
    return (
        *_judge_ground_poles(jacks, outlets, joined_units),
        *_judge_noise(jacks, outlets),
    )


def judge_all_returns(feeding: Feeding) -> tuple[Finding, ...]:
    shared = [key for key, cs in feeding.by_return.items() if sum(len(c.jacks) for c in cs) > 1]
    if not shared:
        return ()
    joined_units = number_joined_units(feeding.plan)
    return tuple(finding for key in shared for finding in judge_return(feeding, key, joined_units))


def judge_outlet_sharing(feeding: Feeding, outlet_ref: str) -> tuple[Finding, ...]:
    """P13's number of pedals, P19 and P23; P13's share of the limit is found with the loads."""
    connections = feeding.at_outlet.get(fold(outlet_ref), ())
    jacks = feeding.jacks_at(outlet_ref)
    found = [finding for connection in connections for finding in _judge_open_end(connection)]
    if len(jacks) < 2:
        return tuple(found)
    tap = next(t for t in connections[0].taps if fold(t.ref) == fold(outlet_ref))
    subjects = (tap.ref, *(fed.ref for fed in jacks))
    if len(jacks) > CHAIN_JACKS:
        hit = Hit(
            f"{tap.ref} feeds {len(jacks)} pedals, more than {CHAIN_JACKS}: {say_jacks(jacks)}.",
            cure="Spread them over more outlets.",
        )
        found += say("P13", subjects, hit)
    if tap.outlet.current == "ac":
        found += say("P23", subjects, Hit(f"{say_jacks(jacks)} share the AC outlet {tap.ref}."))
    return tuple(found)


def _judge_open_end(connection: Connection) -> tuple[Finding, ...]:
    """P19: a chain lead with more tails than jacks."""
    tails = len(connection.lead.tails) if connection.lead else 0
    spare = tails - len(connection.jacks)
    if spare <= 0:
        return ()
    subjects = subjects_of(connection.taps, *connection.jacks)
    plugs = "one plug hangs" if spare == 1 else f"{spare} plugs hang"
    return say("P19", subjects, Hit(f"On the chain from {say_taps(connection.taps)} {plugs} free."))


def _judge_ground_poles(
    jacks: tuple[FedJack, ...], outlets: Mapping[str, Connection], joined_units: Mapping[str, int]
) -> Iterable[Finding]:
    """P06: unlike poles short each other through joined screens, and are a risk where none are joined yet."""
    positive = [fed for fed in jacks if fed.jack.ground_pole == "positive"]
    negative = [fed for fed in jacks if fed.jack.ground_pole == "negative"]
    place = {fed.ref: number for number, fed in enumerate(jacks)}
    for pair in product(positive, negative):
        one, other = sorted(pair, key=lambda fed: place[fed.ref])
        yield from _judge_unlike(one, other, joined_units)
    for fed in jacks:
        others = [o for o in jacks if o is not fed and o.jack.ground_pole != "floating"]
        if fed.jack.ground_pole is None and others:
            subjects = subjects_of(outlets[fed.ref].taps, fed)
            yield from say("P06", subjects, Missing((Gap("ground pole", say_jack(fed)),)))


def _judge_unlike(one: FedJack, other: FedJack, joined_units: Mapping[str, int]) -> tuple[Finding, ...]:
    poles = (
        f"{say_pedal(one.pedal)} is {one.jack.ground_pole}-ground and {say_pedal(other.pedal)} "
        f"{other.jack.ground_pole}-ground on one return"
    )
    same = one.pedal.ref == other.pedal.ref
    subjects = (one.ref, other.ref) if same else (one.pedal.ref, other.pedal.ref)
    if joined_units[fold(one.pedal.ref)] == joined_units[fold(other.pedal.ref)]:
        return say("P06", subjects, Hit(f"{poles}, and their screens are joined."))
    why = "No link joins their screens now; the first patch lead between them shorts the supply."
    return say("P06", subjects, Hit(f"{poles}.", severity="caution", why=why))


def _judge_noise(jacks: tuple[FedJack, ...], outlets: Mapping[str, Connection]) -> Iterable[Finding]:
    """P11 and P12, and the circuits nobody recorded where one of the two could hold."""
    pedals = tuple({fold(fed.pedal.ref): fed for fed in jacks}.values())
    place = {fed.ref: number for number, fed in enumerate(pedals)}
    digital = [fed for fed in pedals if fed.pedal.circuit == "digital"]
    gain = [fed for fed in pedals if _is_high_gain(fed)]
    for pair in product(digital, gain):
        one, other = sorted(pair, key=lambda fed: place[fed.ref])
        says = (
            f"{say_pedal(pair[0].pedal)}, digital, and {say_pedal(pair[1].pedal)}, high-gain, share a return."
        )
        yield from say("P11", (one.pedal.ref, other.pedal.ref), Hit(says))
    clocked = [fed for fed in pedals if fed.pedal.circuit == "clocked"]
    for number, one in enumerate(clocked):
        for other in clocked[number + 1 :]:
            says = f"{say_pedal(one.pedal)} and {say_pedal(other.pedal)} are both clocked and share a return."
            yield from say("P12", (one.pedal.ref, other.pedal.ref), Hit(says))
    for fed in pedals:
        if fed.pedal.circuit is None:
            rule_id = _rule_left_open(fed, pedals)
            gap = Missing((Gap("circuit", say_pedal(fed.pedal)),))
            yield from say(rule_id, subjects_of(outlets[fed.ref].taps, fed), gap) if rule_id else ()


def _is_high_gain(fed: FedJack) -> bool:
    return fed.pedal.kind in HIGH_GAIN_KINDS and fed.pedal.circuit in HIGH_GAIN_CIRCUITS


def _rule_left_open(fed: FedJack, pedals: tuple[FedJack, ...]) -> str | None:
    """Which of the two rules could still hold for a pedal of unknown circuit among these."""
    for other in pedals:
        if other is fed:
            continue
        if other.pedal.circuit == "digital" and fed.pedal.kind in HIGH_GAIN_KINDS:
            return "P11"
        if other.pedal.kind in HIGH_GAIN_KINDS and other.pedal.circuit in (None, *HIGH_GAIN_CIRCUITS):
            return "P11"
    clocked = any(other is not fed and other.pedal.circuit in (None, "clocked") for other in pedals)
    return "P12" if clocked else None
