"""Rules of whole units: mains (P20), protective earth (P21), USB (P22), batteries (P25), needs (P27)."""

from collections.abc import Iterable

from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan, Computer, Mains, Pedal, Supply, Venue
from boardshop.core.power.connections import FedJack, Feeding
from boardshop.core.power.rules import Gap, Hit, Missing, Outcome, say
from boardshop.core.power.wording import say_list, say_pedal, say_volts

UNPOWERED_KINDS = ("expression",)
"""Kinds that never take power: a pot or a switch; common practice."""


USB_2_MA = 500
"""What a port gives at most, at 5 V: USB 2.0."""


def judge_mains(supply: Supply, venue: Venue | None) -> tuple[Finding, ...]:
    """P20, only where a venue is given: voltage and frequency each by themselves."""
    if venue is None:
        return ()
    mains = supply.mains or Mains()
    return (
        *say("P20", (supply.ref,), _judge_mains_voltage(supply, mains, venue)),
        *say("P20", (supply.ref,), _judge_mains_frequency(supply, mains, venue)),
    )


def judge_protective_earth(ref: str, protection_class: str | None, earthed: bool | None) -> Iterable[Finding]:
    """P21 for any unit on the mains."""
    if protection_class == "I" and earthed is False:
        return say("P21", (ref,), Hit(f"{ref} is a class I unit and its protective earth is missing."))
    if protection_class is None:
        return say("P21", (ref,), Missing((Gap("class", ref),)))
    if protection_class == "I" and earthed is None:
        return say("P21", (ref,), Missing((Gap("earthed", ref),)))
    return ()


def judge_pedals(feeding: Feeding) -> Iterable[Finding]:
    """P22, P25 and pedals whose needs nobody recorded."""
    plan, index = feeding.plan, feeding.index
    fed = {fold(jack.ref) for connection in feeding.connections for jack in connection.jacks}
    for pedal in plan.pedals:
        yield from _judge_usb(index, pedal, fed)
        if pedal.battery and _has_lead_in(index, pedal):
            hit = Hit(f"{say_pedal(pedal)} runs on a battery and has a lead in its input.")
            yield from say("P25", (pedal.ref,), hit)
        if _has_unknown_needs(pedal):
            yield from say("P27", (pedal.ref,), Missing((Gap("needs", say_pedal(pedal)),)))


def list_unfed(plan: BoardPlan) -> tuple[str, ...]:
    """Power jacks that no feed names, in the plan's order; one that only takes a battery waits for none."""
    fed = index_plan(plan).feed_of_jack
    waiting = [
        f"{pedal.ref}.{name}"
        for pedal in plan.pedals
        if not pedal.battery
        for name in name_power_jacks(pedal)
    ]
    return tuple(ref for ref in waiting if fold(ref) not in fed)


def judge_unfed(plan: BoardPlan) -> tuple[Finding, ...]:
    """P30: one finding for all the jacks that wait, since the cure is the same; P22 tells of those on USB."""
    index = index_plan(plan)
    by_usb = {
        fold(f"{pedal.ref}.{jack.name}")
        for pedal in plan.pedals
        if _find_computer(index, pedal) is not None
        for jack in pedal.power
        if jack.connector == "USB"
    }
    waiting = tuple(ref for ref in list_unfed(plan) if fold(ref) not in by_usb)
    if not waiting:
        return ()
    names = say_list(tuple(called(index, end) for end in waiting))
    return say("P30", waiting, Hit(f"Nothing feeds {names}."))


def name_power_jacks(pedal: Pedal) -> tuple[str, ...]:
    """By its power data, else by its jacks of role power; a passive pedal has none."""
    if pedal.power:
        return tuple(jack.name for jack in pedal.power)
    if pedal.circuit == "passive":
        return ()
    return tuple(jack.name for jack in pedal.jacks if jack.role == "power")


def _judge_mains_voltage(supply: Supply, mains: Mains, venue: Venue) -> Outcome:
    if venue.mv is None:
        return Missing((Gap("venue voltage", "the venue"),))
    at_venue = f"The venue has {say_volts(venue.mv)}"
    if mains.max is not None and venue.mv > mains.max:
        return Hit(f"{at_venue} and {supply.ref} takes {say_volts(mains.max)} at most.")
    if mains.min is not None and venue.mv < mains.min:
        return Hit(f"{at_venue} and {supply.ref} needs {say_volts(mains.min)} at least.", severity="fault")
    if mains.max is None or mains.min is None:
        return Missing((Gap("mains range", supply.ref),))
    return None


def _judge_mains_frequency(supply: Supply, mains: Mains, venue: Venue) -> Outcome:
    """A transformer made for a higher frequency runs hot unless the voltage is lower in proportion."""
    if venue.hz is None:
        return Missing((Gap("venue frequency", "the venue"),))
    if not mains.hz:
        return Missing((Gap("mains frequency", supply.ref),))
    if venue.hz in mains.hz:
        return None
    takes = say_list(tuple(f"{hz} Hz" for hz in mains.hz))
    says = f"The venue's mains is {venue.hz} Hz and {supply.ref} is made for {takes}."
    if venue.hz > min(mains.hz):
        return Hit(says, severity="caution", why="It is not rated for that, though it will not run hotter.")
    if venue.mv is None or mains.max is None:
        return _judge_mains_voltage(supply, mains, venue)  # asks for what the ratio needs
    if venue.mv * min(mains.hz) <= mains.max * venue.hz:
        why = "The voltage is lower in proportion, so that its core stays cool; it is not rated for that."
        return Hit(says, severity="caution", why=why)
    return Hit(says, why="At the lower frequency its transformer draws more current and overheats.")


def _judge_usb(index: PlanIndex, pedal: Pedal, fed: set[str]) -> tuple[Finding, ...]:
    """P22: a USB power jack that nothing feeds, and a USB link to a computer."""
    hungry = [j for j in pedal.power if j.connector == "USB" and fold(f"{pedal.ref}.{j.name}") not in fed]
    source = _find_computer(index, pedal)
    if not hungry or source is None:
        return ()
    says = f"{say_pedal(pedal)} takes its power over USB from the computer {source.ref}."
    drawn = sum(FedJack(jack.name, pedal, jack).load_ma or 0 for jack in hungry)
    if drawn > USB_2_MA:
        says = f"{says} It draws {drawn} mA, more than a USB 2.0 port gives."
    return say("P22", (pedal.ref, source.ref), Hit(says))


def _find_computer(index: PlanIndex, pedal: Pedal) -> Computer | None:
    """The first computer that a USB link joins with the pedal."""
    parts = (index.signal_parts.get(ref) for ref in _list_usb_neighbours(index, pedal))
    return next((part for part in parts if isinstance(part, Computer)), None)


def _list_usb_neighbours(index: PlanIndex, pedal: Pedal) -> Iterable[str]:
    for jack in pedal.jacks:
        if jack.role == "usb":
            end = fold(f"{pedal.ref}.{jack.name}")
            for link in index.links_from.get(end, ()):
                yield fold(split_end(link.target)[0])
            for link in index.links_to.get(end, ()):
                yield fold(split_end(link.source)[0])


def _has_lead_in(index: PlanIndex, pedal: Pedal) -> bool:
    inputs = (jack for jack in pedal.jacks if jack.role == "in")
    return any(index.links_to.get(fold(f"{pedal.ref}.{jack.name}")) for jack in inputs)


def _has_unknown_needs(pedal: Pedal) -> bool:
    if pedal.power or pedal.battery or pedal.circuit == "passive":
        return False
    return pedal.kind not in UNPOWERED_KINDS
