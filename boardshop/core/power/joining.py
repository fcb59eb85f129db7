"""P15 to P18: when two outlets may be joined for one jack, and what they then can give."""

from dataclasses import dataclass
from fractions import Fraction

from boardshop.core.index import fold
from boardshop.core.power.pairing import Pairing
from boardshop.core.power.rules import Gap, Hit, Missing, Outcome
from boardshop.core.power.wording import say_list, say_taps, say_volts

OUTLETS_JOINED = 2
"""Both adapters are made for two outlets."""


@dataclass(frozen=True, slots=True)
class Share:
    """What each outlet of a connection carries and may carry."""

    limit_ma: int | None
    """Per outlet, so that load over limit is the joint percentage; None where it cannot be known."""
    shown: Fraction
    """The part of the jacks' load that counts against each outlet's limit."""
    drawn: Fraction
    """The part that truly flows there, for sums over groups and supplies."""


def judge_how_joined(pairing: Pairing) -> Outcome:
    """P15: which way, and with which other outlet."""
    if pairing.joining == "unclear":
        return Missing((Gap("joining", say_taps(pairing.taps)),))
    if len(pairing.taps) == 1 and {"parallel", "series"} & set(pairing.adapters):
        return Missing((Gap("second outlet", pairing.taps[0].ref),))
    return None


def judge_number(pairing: Pairing) -> Outcome:
    """P15 in parallel."""
    return _too_many(pairing) if pairing.joining == "parallel" else None


def judge_isolation(pairing: Pairing) -> Outcome:
    """P15: both outlets isolated (both in one group is P17)."""
    if pairing.joining != "parallel" or _is_one_group(pairing):
        return None
    grouped = tuple(tap for tap in pairing.taps if tap.outlet.group is not None)
    return Hit(f"Not isolated from other outlets: {say_taps(grouped)}.") if grouped else None


def judge_model(pairing: Pairing) -> Outcome:
    """P15 in parallel: outlets of one supply, or of supplies of one model."""
    return _unlike_models(pairing) if pairing.joining == "parallel" else None


def judge_fixed_setting(pairing: Pairing) -> Outcome:
    """P15: a voltage that is set by a knob is not the same on both."""
    if pairing.joining != "parallel":
        return None
    variable = tuple(t for t in pairing.taps if t.offered and t.offered.min_mv != t.offered.max_mv)
    return Hit(f"Variable, not fixed: the voltage of {say_taps(variable)}.") if variable else None


def judge_parallel_permission(pairing: Pairing) -> Outcome:
    """P15: permitted by the maker."""
    if pairing.joining != "parallel" or _is_one_group(pairing):
        return None
    return _permission(pairing, {tap.ref: tap.outlet.parallel_ok for tap in pairing.taps}, "parallel_ok")


def judge_equal_limits(pairing: Pairing) -> Outcome:
    """P15: equal limits; an unknown one is reported with the load."""
    if pairing.joining != "parallel":
        return None
    limits = [tap.limit_ma for tap in pairing.taps]
    if None in limits or len(set(limits)) == 1:
        return None
    sizes = say_list(tuple(f"{limit} mA" for limit in limits))
    return Hit(f"{say_taps(pairing.taps)} have unequal limits, {sizes}; the smaller one counts for both.")


def judge_equal_volts(pairing: Pairing) -> Outcome:
    """P16."""
    if pairing.joining != "parallel":
        return None
    volts = [tap.setting_mv for tap in pairing.taps if tap.setting_mv is not None]
    if len(set(volts)) < 2:
        return None
    given = say_list(tuple(say_volts(v) for v in volts))
    return Hit(f"{say_taps(pairing.taps)} are in parallel at {given}.")


def judge_regulation(pairing: Pairing) -> Outcome:
    """P16: regulated outlets only."""
    if pairing.joining != "parallel" or _all_current(pairing, "ac"):
        return None
    loose = tuple(tap for tap in pairing.taps if tap.outlet.regulated is False)
    if loose:
        return Hit(f"In parallel, but not regulated: {say_taps(loose)}.")
    untold = tuple(Gap("regulated", tap.ref) for tap in pairing.taps if tap.outlet.regulated is None)
    return Missing(untold) if untold else None


def judge_sag(pairing: Pairing) -> Outcome:
    """P16: no sag outlet."""
    if pairing.joining != "parallel":
        return None
    sagging = tuple(tap for tap in pairing.taps if tap.outlet.sag)
    return Hit(f"In parallel, but made to sag: {say_taps(sagging)}.") if sagging else None


def judge_kinds(pairing: Pairing) -> Outcome:
    """P16: DC with DC; AC only in phase, which no marking tells."""
    if pairing.joining != "parallel":
        return None
    kinds = {tap.outlet.current for tap in pairing.taps}
    if {"ac", "dc"} <= kinds:
        return Hit(f"{say_taps(pairing.taps)} are AC and DC in parallel.")
    return Missing((Gap("phase", say_taps(pairing.taps)),)) if "ac" in kinds else None


def judge_opposed(pairing: Pairing) -> Outcome:
    """P16: the same plug polarity."""
    return _unlike_polarity(pairing) if pairing.joining == "parallel" else None


def judge_one_group(pairing: Pairing) -> Outcome:
    """P17."""
    if pairing.joining != "parallel" or not _is_one_group(pairing):
        return None
    tap = pairing.taps[0]
    return Hit(f"{say_taps(pairing.taps)} are in parallel, but both belong to {tap.return_ref}.")


def judge_series_isolation(pairing: Pairing) -> Outcome:
    """P18: a shared return shorts one of the two outlets."""
    if pairing.joining != "series":
        return None
    if len({fold(tap.return_ref) for tap in pairing.taps}) < len(pairing.taps):
        return Hit(
            f"{say_taps(pairing.taps)} are in series, but share one return.",
            severity="damage",
            why="The shared return shorts one of them.",
        )
    grouped = tuple(tap for tap in pairing.taps if tap.outlet.group is not None)
    if not grouped:
        return _judge_shared_series(pairing)
    return Hit(
        f"In series, but not isolated from other outlets: {say_taps(grouped)}.",
        severity="damage" if pairing.shares_return else "fault",
        why="Through the audio screens of whatever else hangs on that return it is shorted.",
    )


def _judge_shared_series(pairing: Pairing) -> Outcome:
    """Of two in series only the lower one has the jack's own ground; which that is nobody records."""
    if not pairing.shares_part:
        return None
    return Hit(
        f"{say_taps(pairing.taps)} are in series, and another jack hangs on one of them.",
        severity="damage",
        cure="Give the other jack an outlet that is not in series.",
        why="If it hangs on the upper one, the audio screens between the two pedals short the lower one.",
    )


def judge_series(pairing: Pairing) -> Outcome:
    """P18: two outlets of one polarity and one kind of current."""
    if pairing.joining != "series":
        return None
    kinds = {tap.outlet.current for tap in pairing.taps}
    if {"ac", "dc"} <= kinds:
        return Hit(f"{say_taps(pairing.taps)} are AC and DC in series.")
    if "ac" in kinds:
        return Missing((Gap("phase", say_taps(pairing.taps)),))
    return _too_many(pairing) or _unlike_polarity(pairing)


def judge_series_model(pairing: Pairing) -> Outcome:
    """P18: outlets of one supply, or of supplies of one model."""
    return _unlike_models(pairing) if pairing.joining == "series" else None


def judge_series_permission(pairing: Pairing) -> Outcome:
    """P18: permitted by the maker."""
    if pairing.joining != "series":
        return None
    return _permission(pairing, {tap.ref: tap.outlet.series_ok for tap in pairing.taps}, "series_ok")


FORBIDDING = (
    judge_how_joined,
    judge_number,
    judge_isolation,
    judge_model,
    judge_fixed_setting,
    judge_parallel_permission,
    judge_equal_volts,
    judge_regulation,
    judge_sag,
    judge_kinds,
    judge_opposed,
    judge_one_group,
    judge_series_isolation,
    judge_series,
    judge_series_model,
    judge_series_permission,
)
"""The tests that decide whether joining is permitted; unequal limits are found, but only cap the sum."""


def share_load(pairing: Pairing) -> Share:
    """What each outlet may carry of this pairing and how much of its load falls on it.

    Permitted in parallel: half each under the smaller limit.  Permitted in series: all on each under the
    smaller limit.  Not permitted: all on each under the group's limit, else the smaller outlet's.
    """
    taps = pairing.taps
    limits = [tap.limit_ma for tap in taps]
    smallest = min((limit for limit in limits if limit is not None), default=None)
    drawn = Fraction(1) if pairing.joining in ("single", "series") else Fraction(1, len(taps))
    if len(taps) == 1:
        return Share(smallest, Fraction(1), drawn)
    answers = [test(pairing) for test in FORBIDDING]
    forbidden = any(isinstance(answer, Hit) for answer in answers)
    open_ = any(isinstance(answer, Missing) for answer in answers) or None in limits
    if forbidden:
        group_limit = _group_limit(pairing)
        own_limit = None if None in limits else smallest
        return Share(own_limit if group_limit is None else group_limit, Fraction(1), drawn)
    shown = drawn if pairing.joining == "parallel" else Fraction(1)
    return Share(None if open_ else smallest, shown, drawn)


def _group_limit(pairing: Pairing) -> int | None:
    if not _is_one_group(pairing):
        return None
    return min(
        (t.outlet.group_max_ma for t in pairing.taps if t.outlet.group_max_ma is not None), default=None
    )


def _is_one_group(pairing: Pairing) -> bool:
    grouped = all(tap.outlet.group is not None for tap in pairing.taps)
    return grouped and len({fold(tap.return_ref) for tap in pairing.taps}) == 1


def _all_current(pairing: Pairing, current: str) -> bool:
    return all(tap.outlet.current == current for tap in pairing.taps)


def _too_many(pairing: Pairing) -> Outcome:
    if len(pairing.taps) == OUTLETS_JOINED:
        return None
    return Hit(f"{say_taps(pairing.taps)} are {len(pairing.taps)} outlets on one jack.")


def _unlike_models(pairing: Pairing) -> Outcome:
    supplies = {fold(tap.supply.ref): tap.supply for tap in pairing.taps}
    if len(supplies) == 1:
        return None
    models = {supply.model for supply in supplies.values()}
    if len(models - {None}) > 1:
        return Hit(f"{say_list(tuple(s.ref for s in supplies.values()))} are supplies of different models.")
    untold = tuple(Gap("model", supply.ref) for supply in supplies.values() if supply.model is None)
    return Missing(untold) if untold else None


def _unlike_polarity(pairing: Pairing) -> Outcome:
    known = {tap.outlet.polarity for tap in pairing.taps} - {None}
    if len(known) < 2 or pairing.is_alternating:
        return None
    return Hit(f"{say_taps(pairing.taps)} have opposite plug polarities.")


def _permission(pairing: Pairing, permitted: dict[str, bool | None], kind: str) -> Outcome:
    refused = tuple(ref for ref, answer in permitted.items() if answer is False)
    if refused:
        return Hit(f"The maker does not permit joining {say_list(refused)} with another outlet in this way.")
    untold = tuple(Gap(kind, ref) for ref, answer in permitted.items() if answer is None)
    return Missing(untold) if untold else None
