"""The first power-on: every plug that is metered before its pedal meets it, and what to expect at each.

One step is one plug: a chain has one for each of its tails, and outlets that one feed joins are one step.
What a reading says of a step is judged in `readings.py`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan, DcLead, PowerJack, Tail
from boardshop.core.power.connections import Connection, FedJack, Feeding, Joining, make_feeding
from boardshop.core.power.loads import add_up_outlet
from boardshop.core.power.matching import OPPOSITE
from boardshop.core.power.pairing import Pairing, pair_up
from boardshop.core.power.rules import RULES
from boardshop.core.power.voltage import Span, span_of, sums_to
from boardshop.core.power.wording import say_volts
from boardshop.core.vocabulary import NEVER_KEPT

UNKNOWN = "not recorded"

type Expected = tuple[tuple[str, str], ...]
"""What stood behind a reading when it was taken: each fact with its name, as text that can be kept."""


@dataclass(frozen=True, slots=True)
class PowerStep:
    """One plug to meter; what nobody recorded is None."""

    feeding: Feeding
    pairing: Pairing
    expects: Expected
    barred_by: tuple[Finding, ...]
    """What the plan alone says would hurt somebody or destroy gear on this feed."""
    limit_ma: int | None
    """Of the outlet at its setting; of joined ones what their feed leaves them."""

    @property
    def end(self) -> str:
        """The jack that the plug is for: `P4.DC`."""
        return self.pairing.fed.ref

    @property
    def jack(self) -> PowerJack:
        return self.pairing.fed.jack

    @property
    def fed(self) -> FedJack:
        return self.pairing.fed

    @property
    def outlets(self) -> tuple[str, ...]:
        return tuple(tap.ref for tap in self.pairing.taps)

    @property
    def supply(self) -> str:
        """The supply under which it is listed: that of its first outlet."""
        return self.pairing.taps[0].supply.ref

    @property
    def joining(self) -> Joining:
        return self.pairing.joining

    @property
    def expected_mv(self) -> int | None:
        """The setting, of outlets in series their sum; None where a setting or the joining is unknown."""
        return sums_to(self.pairing)

    @property
    def span(self) -> Span | None:
        """With what an open plug of an unregulated outlet may read."""
        return span_of(self.pairing) if self.expected_mv is not None else None

    @property
    def reads_higher(self) -> bool:
        """An open plug may read well above the setting: the outlet is not regulated, or nobody knows."""
        return self.span is not None and self.span.open_high > self.span.high

    @property
    def current(self) -> str | None:
        """`dc` or `ac` as all its outlets give it."""
        kinds = {tap.outlet.current for tap in self.pairing.taps}
        return kinds.pop() if len(kinds) == 1 else None

    @property
    def polarity(self) -> str | None:
        """At the plug, reversers counted; a converter's own wiring is unknown until it is metered."""
        given = {tap.outlet.polarity for tap in self.pairing.taps}
        if self.current == "ac" or "converter" in self.pairing.adapters or len(given) != 1:
            return None
        polarity = given.pop()
        turned = self.pairing.adapters.count("reverser") % 2 == 1
        return OPPOSITE.get(polarity or "") if turned else polarity

    @property
    def connector(self) -> str | None:
        """The plug that meets the jack; a converter in the lead ends in what the jack takes."""
        return self.jack.connector if "converter" in self.pairing.adapters else self.pairing.plug

    @property
    def shares_with(self) -> tuple[str, ...]:
        """The other jacks on its outlets, which draw on the same limit."""
        jacks = (fed.ref for outlet in self.outlets for fed in self.feeding.jacks_at(outlet))
        return tuple(ref for ref in dict.fromkeys(jacks) if ref != self.end)

    @property
    def can_be_turned(self) -> bool:
        """Somebody can change the voltage by hand (P24)."""
        return any(tap.is_selectable or tap.outlet.sag for tap in self.pairing.taps)


def list_power_steps(plan: BoardPlan, findings: Iterable[Finding] = ()) -> tuple[PowerStep, ...]:
    """Every fed power jack, by supply and outlet in the plan's order; those of one outlet as they are fed.

    `findings` are the report's: a step takes those that bar it whatever a meter reads.
    """
    feeding = make_feeding(plan)
    grave = tuple(one for one in findings if one.severity in NEVER_KEPT and one.rule in RULES)
    outlets = [fold(f"{supply.ref}.{outlet.name}") for supply in plan.supplies for outlet in supply.outlets]
    order = {ref: number for number, ref in enumerate(outlets)}
    steps = [
        _make_step(feeding, c, number, grave) for c in feeding.connections for number in range(len(c.jacks))
    ]
    return tuple(sorted(steps, key=lambda step: order[fold(step.outlets[0])]))


def tell_apart(then: Iterable[Sequence[str]], now: Expected) -> tuple[str, ...]:
    """What is not as it was when a reading was taken: `outlet: S1.1 then, S1.2 now`; empty where all is."""
    before = {pair[0]: pair[1] for pair in then}
    return tuple(
        f"{name}: {before.get(name, UNKNOWN)} then, {text} now"
        for name, text in now
        if before.get(name, UNKNOWN) != text
    )


def _make_step(
    feeding: Feeding, connection: Connection, number: int, grave: tuple[Finding, ...]
) -> PowerStep:
    pairing = pair_up(feeding, connection, connection.jacks[number])
    limits = [add_up_outlet(feeding, tap.supply, tap.outlet).load.limit for tap in connection.taps]
    known = [limit for limit in limits if limit is not None]
    return PowerStep(
        feeding=feeding,
        pairing=pairing,
        expects=_list_expected(connection, number, pairing),
        barred_by=_pick_barring(pairing, grave),
        limit_ma=min(known) if len(known) == len(limits) else None,
    )


def _pick_barring(pairing: Pairing, grave: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """About this jack, its pedal, or an outlet or return that feeds it."""
    names = {fold(pairing.fed.ref), fold(pairing.fed.pedal.ref)}
    names |= {fold(name) for tap in pairing.taps for name in (tap.ref, tap.return_ref)}
    return sort_findings(one for one in grave if any(fold(subject) in names for subject in one.subjects))


def _list_expected(connection: Connection, number: int, pairing: Pairing) -> Expected:
    """All that a reading at this plug hangs on: outlets and their settings, the lead, and the pedal."""
    taps, pedal = pairing.taps, pairing.fed.pedal
    tails = connection.lead.tails if connection.lead else ()
    tail = tails[number] if number < len(tails) else None
    return (
        ("outlet", " + ".join(tap.ref for tap in taps)),
        ("supply", " + ".join(dict.fromkeys(tap.supply.model or UNKNOWN for tap in taps))),
        ("set to", " + ".join(_say_setting(tap.setting_mv) for tap in taps)),
        ("current", " + ".join(dict.fromkeys(tap.outlet.current or UNKNOWN for tap in taps))),
        ("polarity", " + ".join(dict.fromkeys(tap.outlet.polarity or UNKNOWN for tap in taps))),
        ("adapters", ", ".join(connection.adapters) or "none"),
        ("plug", pairing.plug or UNKNOWN),
        ("lead", _say_lead(connection.lead)),
        ("tail", _say_lead(tail)),
        ("pedal", " ".join(filter(None, (pedal.maker, pedal.name or pedal.kind, pedal.unit)))),
    )


def _say_setting(setting_mv: int | None) -> str:
    return UNKNOWN if setting_mv is None else say_volts(setting_mv)


def _say_lead(lead: DcLead | Tail | None) -> str:
    """Length and conductor, since another lead is another thing to meter."""
    if lead is None:
        return UNKNOWN
    parts = (
        None if lead.length is None else f"{lead.length} mm",
        None if lead.awg is None else f"AWG {lead.awg}",
        None if lead.mm2 is None else f"{lead.mm2:g} mm²",
    )
    return ", ".join(filter(None, parts)) or UNKNOWN
