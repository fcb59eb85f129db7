"""P03, P04 and P28: the voltage that arrives against the range the jack allows.

Every test works on a span: a value nobody recorded leaves the answer open only where it could change it.
"""

from dataclasses import dataclass

from boardshop.core.power.connections import Tap
from boardshop.core.power.pairing import Pairing
from boardshop.core.power.rules import Gap, Hit, Missing, Outcome
from boardshop.core.power.wording import say_jack, say_list, say_taps, say_volts

NO_LOAD_LEAST_TENTHS = 13
NO_LOAD_MOST_TENTHS = 16
"""An unregulated DC outlet gives 1.3 to 1.6 times its printed voltage without load: common practice."""


@dataclass(frozen=True, slots=True)
class Span:
    """The voltage at the plug in mV, between what is certain and what is possible."""

    low: int
    high: int
    """Under load; equal when every setting is known."""
    open_low: float
    open_high: float
    """Without load."""

    @property
    def is_settled(self) -> bool:
        return self.low == self.high


def span_of(pairing: Pairing) -> Span | None:
    """None where an outlet has no voltage recorded at all."""
    ranges = [_range_of(tap) for tap in pairing.taps]
    known = [r for r in ranges if r is not None]
    if len(known) < len(ranges):
        return None
    least = [low * _least_tenths(tap) / 10 for tap, (low, _) in zip(pairing.taps, known, strict=True)]
    most = [high * _most_tenths(tap) / 10 for tap, (_, high) in zip(pairing.taps, known, strict=True)]
    lows, highs = [low for low, _ in known], [high for _, high in known]
    if pairing.joining == "series":
        return Span(sum(lows), sum(highs), sum(least), sum(most))
    if pairing.joining == "unclear":
        return Span(max(lows), sum(highs), max(least), sum(most))
    return Span(max(lows), max(highs), max(least), max(most))


def judge_over_voltage(pairing: Pairing) -> Outcome:
    """P03."""
    span, jack = span_of(pairing), pairing.fed.jack
    if span is None:
        return None
    if jack.max is not None and span.open_low > jack.max:
        return Hit(
            f"{_gives(pairing, span)} and {say_jack(pairing.fed)} stands at most {say_volts(jack.max)}."
        )
    stands = jack.max if jack.max is not None else _largest(jack.nominal, jack.min)
    if stands is not None and span.open_high <= stands:
        return None
    if not span.is_settled:
        return None  # P28 or P15 asks for the setting
    says = _beside_label(pairing, span, loaded=False) if jack.max is None else ""
    return _missing(_gaps_above(pairing, span, stands), says)


def judge_under_voltage(pairing: Pairing) -> Outcome:
    """P04; a sag outlet may starve an analog pedal whose player asks for it, and never a digital one."""
    span, jack = span_of(pairing), pairing.fed.jack
    starving = any(tap.outlet.sag for tap in pairing.taps)
    if starving and pairing.fed.pedal.circuit == "digital":
        return Hit(f"{say_taps(pairing.taps)} is made to sag and {say_jack(pairing.fed)} is digital.")
    if starving and pairing.fed.pedal.circuit is None:
        return Missing((Gap("circuit", say_jack(pairing.fed)),))
    if span is None:
        return None
    if jack.min is not None and span.high < jack.min:
        return _judge_starving(pairing, span)
    works = jack.min if jack.min is not None else _smallest(jack.nominal, jack.max)
    if (works is not None and span.low >= works) or not span.is_settled:
        return None
    if jack.min is not None:
        return None
    return _missing((Gap("min", say_jack(pairing.fed)),), _beside_label(pairing, span, loaded=True))


def judge_setting(pairing: Pairing) -> Outcome:
    """P28: the chosen voltage is known and offered."""
    gaps: list[Gap] = []
    for tap in pairing.taps:
        if tap.setting_mv is None:
            gaps.append(Gap("chosen setting" if tap.outlet.settings else "settings", tap.ref))
        elif tap.offered is None and tap.outlet.settings:
            offers = say_list(tuple(_say_setting(s.min_mv, s.max_mv) for s in tap.outlet.settings))
            return Hit(f"{tap.ref} offers {offers}, not the {say_volts(tap.setting_mv)} chosen on its feed.")
        elif tap.offered is None:
            gaps.append(Gap("settings", tap.ref))
    return Missing(tuple(gaps)) if gaps else None


def is_starved_on_purpose(pairing: Pairing) -> bool:
    """An analog pedal whose player asks for it, on an outlet made to sag."""
    fed = pairing.fed
    sagging = any(tap.outlet.sag for tap in pairing.taps)
    return bool(fed.jack.sag) and sagging and fed.pedal.circuit == "analog"


def sums_to(pairing: Pairing) -> int | None:
    """The voltage in mV under load, where every setting is known and the way of joining is clear."""
    span = span_of(pairing)
    known = all(tap.setting_mv is not None for tap in pairing.taps)
    return span.low if span and span.is_settled and known else None


def _judge_starving(pairing: Pairing, span: Span) -> Outcome:
    fed, taps = pairing.fed, pairing.taps
    least = say_volts(fed.jack.min or 0)
    short = f"{_gives(pairing, span, loaded=True)} and {say_jack(fed)} needs at least {least}."
    asked = fed.jack.sag and any(tap.outlet.sag for tap in taps)
    if asked and fed.pedal.circuit is None:
        return Missing((Gap("circuit", say_jack(fed)),))
    if not is_starved_on_purpose(pairing):
        return Hit(short)
    return Hit(
        f"{short} It is starved on purpose.",
        severity="advice",
        why="A starved analog pedal sags and splutters, which its player asks for.",
        cure="Note the voltage on the sheet, so that the sound can be found again.",
    )


def _missing(gaps: tuple[Gap, ...], says: str) -> Missing:
    return Missing(gaps, says, "Leave it unplugged until that is known." if says else "")


def _beside_label(pairing: Pairing, span: Span, *, loaded: bool) -> str:
    """Both figures where what arrives is off the label: too much without load, too little under it."""
    label = pairing.fed.jack.nominal
    if label is None or (span.high >= label if loaded else span.open_low <= label):
        return ""
    return (
        f"{_gives(pairing, span, loaded=loaded)} and {say_jack(pairing.fed)} is labelled {say_volts(label)}."
    )


def _gaps_above(pairing: Pairing, span: Span, stands: int | None) -> tuple[Gap, ...]:
    unsure = tuple(tap for tap in pairing.taps if _least_tenths(tap) != _most_tenths(tap))
    untold = tuple(tap for tap in unsure if tap.outlet.regulated is None)
    if stands is not None and span.open_low <= stands and untold:
        return tuple(Gap("regulated", tap.ref) for tap in untold)
    if pairing.fed.jack.max is None:
        return (Gap("max", say_jack(pairing.fed)),)
    return tuple(Gap("no-load volts", tap.ref) for tap in unsure)


def _range_of(tap: Tap) -> tuple[int, int] | None:
    if tap.setting_mv is not None:
        return tap.setting_mv, tap.setting_mv
    settings = tap.outlet.settings
    if not settings:
        return None
    return min(s.min_mv for s in settings), max(s.max_mv for s in settings)


def _least_tenths(tap: Tap) -> int:
    return NO_LOAD_LEAST_TENTHS if tap.outlet.regulated is False and tap.outlet.current != "ac" else 10


def _most_tenths(tap: Tap) -> int:
    return 10 if tap.outlet.regulated or tap.outlet.current == "ac" else NO_LOAD_MOST_TENTHS


def _gives(pairing: Pairing, span: Span, *, loaded: bool = False) -> str:
    names = say_taps(pairing.taps)
    joined = {"series": " in series", "parallel": " in parallel"}.get(pairing.joining, "")
    verb = "gives" if len(pairing.taps) == 1 else "give"
    if loaded or span.open_low == span.low:
        least = span.high if loaded else span.low
        return f"{names}{joined} {verb} {say_volts(least)}"
    return f"{names}{joined}, not regulated, {verb} {say_volts(span.open_low)} or more without load"


def _say_setting(low_mv: int, high_mv: int) -> str:
    return say_volts(low_mv) if low_mv == high_mv else f"{say_volts(low_mv)} to {say_volts(high_mv)}"


def _largest(*values: int | None) -> int | None:
    return max((v for v in values if v is not None), default=None)


def _smallest(*values: int | None) -> int | None:
    return min((v for v in values if v is not None), default=None)
