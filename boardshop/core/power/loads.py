"""What each outlet, group and supply carries, and P08, P09, P10 and P13's share of the limit.

Sums are exact fractions of mA and mW; only the printed rows are rounded.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from boardshop.core.findings import Finding
from boardshop.core.index import fold
from boardshop.core.plan import Outlet, Supply
from boardshop.core.power.connections import Connection, FedJack, Feeding, Tap
from boardshop.core.power.joining import Share, share_load
from boardshop.core.power.pairing import pair_up
from boardshop.core.power.rules import Gap, Hit, Missing, say
from boardshop.core.power.sharing import CHAIN_PERCENT
from boardshop.core.power.wording import say_jack, say_jacks, say_list, say_volts
from boardshop.core.printing import round_percent, round_whole

type Standing = Literal["free", "unlimited", "unknown", "within", "above", "over"]
"""How a load stands to its limit: none is there, no limit is known, a draw or voltage is not recorded and
what is known is within it, within the shop's headroom, above that, over the limit."""


@dataclass(frozen=True, slots=True)
class Load:
    """What one outlet, group or supply carries; unknown draws are left out of the sums and reported (P27)."""

    ref: str
    load_ma: Fraction
    peak_ma: Fraction
    """The same with each jack's boot peak where it is higher."""
    load_mw: Fraction
    limit: int | None
    """mA for an outlet or group, mW for a supply; None when unknown or none is stated."""
    jacks: tuple[FedJack, ...]
    setting_mv: int | None = None
    """For a group or supply: where all its fed outlets have one and the same."""
    is_mw_partial: bool = False
    """Whether `load_mw` leaves something out: a draw, or a load at a voltage that nobody recorded."""

    @property
    def is_partial(self) -> bool:
        """Whether `load_ma` leaves out a draw that nobody recorded."""
        return any(fed.load_ma is None for fed in self.jacks)

    def percent_of(self, amount: Fraction) -> Fraction | None:
        """None without a limit, or with one of 0 that nothing can be a percentage of."""
        return amount * 100 / self.limit if self.limit else None


@dataclass(frozen=True, slots=True)
class OutletLoad:
    """One outlet's load with what its peaks and limit are judged by."""

    load: Load
    tap: Tap | None
    """None where nothing is fed from it."""
    peaks: tuple[tuple[FedJack, Fraction], ...] = ()
    """Each jack's recorded peak as far as it falls on this outlet."""


def add_up_outlet(feeding: Feeding, supply: Supply, outlet: Outlet) -> OutletLoad:
    """All that hangs on one outlet, against the least limit that its feeds leave it."""
    ref = f"{supply.ref}.{outlet.name}"
    connections = feeding.at_outlet.get(fold(ref), ())
    if not connections:
        return OutletLoad(Load(ref, Fraction(0), Fraction(0), Fraction(0), None, ()), None)
    shares = [(c, share_of(feeding, c)) for c in connections]
    load = sum((known_load(c) * share.shown for c, share in shares), Fraction(0))
    peak = sum((boot_load(c) * share.shown for c, share in shares), Fraction(0))
    limits = [share.limit_ma for _, share in shares]
    tap = next(t for t in connections[0].taps if fold(t.ref) == fold(ref))
    peaks = [
        (fed, fed.jack.peak * s.shown) for c, s in shares for fed in c.jacks if fed.jack.peak is not None
    ]
    known = [limit for limit in limits if limit is not None]
    limit = min(known) if len(known) == len(limits) else None
    jacks = feeding.jacks_at(ref)
    power, lacks = load * (tap.setting_mv or 0) / 1000, any(_lacks_power(c, tap) for c in connections)
    summed = Load(ref, load, peak, power, limit, jacks, tap.setting_mv, lacks)
    return OutletLoad(summed, tap, tuple(peaks))


def add_up_group(feeding: Feeding, supply: Supply, group: str) -> Load:
    """All outlets of one group; its limit is the smallest that any of them names."""
    members = [o for o in supply.outlets if o.group is not None and fold(o.group) == fold(group)]
    limits = [outlet.group_max_ma for outlet in members if outlet.group_max_ma is not None]
    ref = f"{supply.ref}/{members[0].group}"
    return _add_up(feeding, ref, supply, members, min(limits, default=None))


def add_up_supply(feeding: Feeding, supply: Supply) -> Load:
    return _add_up(feeding, supply.ref, supply, supply.outlets, supply.limit_mw)


def list_groups(supply: Supply) -> tuple[str, ...]:
    """The supply's groups in the order in which its outlets name them."""
    names: dict[str, str] = {}
    for outlet in supply.outlets:
        if outlet.group is not None:
            names.setdefault(fold(outlet.group), outlet.group)
    return tuple(names.values())


def known_load(connection: Connection) -> int:
    return sum(fed.load_ma or 0 for fed in connection.jacks)


def boot_load(connection: Connection) -> int:
    return sum(max(fed.jack.peak or 0, fed.load_ma or 0) for fed in connection.jacks)


def _lacks_power(connection: Connection, tap: Tap) -> bool:
    """Whether some of what the connection draws from this outlet cannot be counted in mW."""
    loads = [fed.load_ma for fed in connection.jacks]
    return None in loads or (tap.setting_mv is None and any(loads))


def share_of(feeding: Feeding, connection: Connection) -> Share:
    """The same for every jack of a connection: joining looks at the outlets alone."""
    return share_load(pair_up(feeding, connection, connection.jacks[0]))


def judge_outlets(feeding: Feeding, loads: Iterable[OutletLoad]) -> tuple[Finding, ...]:
    """P08, P09 and P13's share of the limit; outlets that one feed joins are judged and named together."""
    fed = {fold(load.load.ref): load for load in loads if load.tap is not None}
    found: list[Finding] = []
    judged: set[str] = set()
    for ref in fed:
        if ref not in judged:
            together = _joined_with(feeding, ref)
            judged.update(together)
            found += _judge_together(feeding, tuple(fed[r] for r in together if r in fed))
    return tuple(found)


def judge_group(feeding: Feeding, load: Load) -> tuple[Finding, ...]:
    """P08 and P09 for a group with a limit of its own."""
    found = [*_judge_load(feeding, "P08", load, load.load_ma, (load.ref,))]
    if _trips_at_boot(load):
        found += say("P09", (load.ref,), _boot_hit(load))
    return tuple(found)


def judge_supply(feeding: Feeding, load: Load) -> tuple[Finding, ...]:
    """P10."""
    return _judge_load(feeding, "P10", load, load.load_mw, (load.ref,))


def _add_up(feeding: Feeding, ref: str, supply: Supply, outlets: Iterable[Outlet], limit: int | None) -> Load:
    load = peak = power = Fraction(0)
    jacks: dict[str, FedJack] = {}
    settings: list[int | None] = []
    lacks = False
    for outlet in outlets:
        outlet_ref = fold(f"{supply.ref}.{outlet.name}")
        for connection in feeding.at_outlet.get(outlet_ref, ()):
            drawn = share_of(feeding, connection).drawn
            tap = next(t for t in connection.taps if fold(t.ref) == outlet_ref)
            load += known_load(connection) * drawn
            peak += boot_load(connection) * drawn
            power += known_load(connection) * drawn * (tap.setting_mv or 0) / 1000
            settings.append(tap.setting_mv)
            lacks |= _lacks_power(connection, tap)
            jacks |= {fold(fed.ref): fed for fed in connection.jacks}
    same = settings[0] if settings and settings.count(settings[0]) == len(settings) else None
    return Load(ref, load, peak, power, limit, tuple(jacks.values()), same, lacks)


def _joined_with(feeding: Feeding, ref: str) -> tuple[str, ...]:
    """This outlet and those that feeds join with it, directly or through others."""
    together = [ref]
    for name in together:
        for connection in feeding.at_outlet.get(name, ()):
            together += [fold(t.ref) for t in connection.taps if fold(t.ref) not in together]
    return tuple(together)


def _judge_together(feeding: Feeding, loads: tuple[OutletLoad, ...]) -> Iterable[Finding]:
    jacks = tuple({fold(fed.ref): fed for load in loads for fed in load.load.jacks}.values())
    outlets = tuple(load.load.ref for load in loads)
    subjects = (*outlets, *(fed.ref for fed in jacks))
    yield from _judge_digital_peaks(outlets, jacks)
    unlimited = [load.tap for load in loads if load.tap and load.tap.offered and load.tap.limit_ma is None]
    if unlimited:
        yield from say("P08", subjects, Missing(tuple(Gap("limit", tap.ref) for tap in unlimited)))
    limited = [load for load in loads if load.load.limit is not None]
    if not limited:
        return
    worst = max(limited, key=lambda load: _strain(load.load, load.load.load_ma))
    yield from _judge_load(feeding, "P08", worst.load, worst.load.load_ma, subjects)
    if len(jacks) > 1 and _is_above(worst.load, worst.load.load_ma, CHAIN_PERCENT):
        says = f"{say_jacks(jacks)} share {say_list(outlets)} above {CHAIN_PERCENT} % of its limit."
        hit = Hit(says, severity="advice", cure="Take a pedal off this outlet.")
        yield from say("P13", subjects, hit)
    yield from _judge_peaks(outlets, subjects, limited)


def _judge_peaks(
    outlets: tuple[str, ...], subjects: tuple[str, ...], loads: list[OutletLoad]
) -> Iterable[Finding]:
    """P09 for each jack by itself, and for all that start together though their steady load fits."""
    alone: dict[str, FedJack] = {}
    for load in loads:
        limit = load.load.limit or 0
        alone |= {fed.ref: fed for fed, peak in load.peaks if peak > limit}
    for ref, fed in alone.items():
        says = (
            f"{say_jack(fed)} draws {fed.jack.peak} mA at power-up, more than {say_list(outlets)} may give."
        )
        yield from say("P09", (*outlets, ref), Hit(says))
    over = next((load.load for load in loads if _trips_at_boot(load.load)), None)
    if over is not None and len(over.jacks) > 1:
        yield from say("P09", subjects, _boot_hit(over))


def _judge_digital_peaks(outlets: tuple[str, ...], jacks: tuple[FedJack, ...]) -> Iterable[Finding]:
    """P09 needs the boot peak of a digital pedal; an analog one has none to speak of (common practice)."""
    for fed in jacks:
        if fed.pedal.circuit == "digital" and fed.jack.peak is None:
            yield from say("P09", (*outlets, fed.ref), Missing((Gap("peak", say_jack(fed)),)))


def _judge_load(
    feeding: Feeding, rule_id: str, load: Load, amount: Fraction, subjects: tuple[str, ...]
) -> tuple[Finding, ...]:
    """A fault above the limit, advice above the shop's headroom, nothing at or below either."""
    if load.limit is None:
        return ()
    headroom = feeding.plan.rules.planned_percent
    percent = load.percent_of(amount)
    share = "more than nothing" if percent is None else f"{round_percent(float(percent))} %"
    unit = "mW" if rule_id == "P10" else "mA"
    least = "at least " if (load.is_mw_partial if unit == "mW" else load.is_partial) else ""
    at = f" at {say_volts(load.setting_mv)}" if load.setting_mv else ""
    says = (
        f"{load.ref} carries {least}{round_whole(float(amount))} {unit} of {load.limit} {unit}{at}, {share}"
    )
    if _is_above(load, amount, 100):
        return say(rule_id, subjects, Hit(f"{says}, which is over its limit."))
    if not _is_above(load, amount, headroom):
        return ()
    why = "The margin covers figures that are too low, warm supplies and one more pedal."
    return say(rule_id, subjects, Hit(f"{says}, above the planned {headroom} %.", "advice", why=why))


def judge_standing(load: Load, amount: Fraction, *, is_partial: bool, planned_percent: int) -> Standing:
    """The word for the same comparison that P08 and P10 make, in exact fractions."""
    if not load.jacks:
        return "free"
    if load.limit is None:
        return "unlimited"
    if _is_above(load, amount, 100):
        return "over"
    if _is_above(load, amount, planned_percent):
        return "above"
    return "unknown" if is_partial else "within"


def _is_above(load: Load, amount: Fraction, percent: int) -> bool:
    return load.limit is not None and amount * 100 > load.limit * percent


def _strain(load: Load, amount: Fraction) -> tuple[bool, Fraction]:
    """Sorts loads by percentage; anything on a limit of 0 is worst."""
    percent = load.percent_of(amount)
    return percent is None and amount != 0, percent or Fraction(0)


def _trips_at_boot(load: Load) -> bool:
    """Whether the peaks, not the steady load alone, go over the limit."""
    return load.limit is not None and load.peak_ma > load.limit and load.peak_ma > load.load_ma


def _boot_hit(load: Load) -> Hit:
    asked = round_whole(float(load.peak_ma))
    least = "at least " if load.is_partial else ""
    return Hit(
        f"At power-up {load.ref} is asked for {least}{asked} mA together and may give {load.limit} mA."
    )
