"""The one function over the rules of a single pairing: may this outlet feed this jack?

`PAIR_TESTS` is the table and `judge_pair` walks it: form choices, findings, papers and tests come from here.
"""

from collections.abc import Callable

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.power import voltage
from boardshop.core.power.conditions import BOTH_WAYS, PARALLEL_CONDITIONS, SERIES_CONDITIONS
from boardshop.core.power.connectors import MISMATCHES
from boardshop.core.power.pairing import Pairing
from boardshop.core.power.rules import Gap, Hit, Missing, Outcome, say
from boardshop.core.power.typical import TYPICAL_MOST_MA
from boardshop.core.power.wording import say_jack, say_taps, subjects_of

OPPOSITE = {"centre-negative": "centre-positive", "centre-positive": "centre-negative"}


def judge_pair(pairing: Pairing) -> tuple[Finding, ...]:
    """All that speaks against this pairing, or cannot be checked on it, worst first."""
    subjects = subjects_of(pairing.taps, pairing.fed)
    found: list[Finding] = []
    for rule_id, test in PAIR_TESTS:
        found += say(rule_id, subjects, test(pairing))
    return sort_findings(found)


def judge_ac_into_dc(pairing: Pairing) -> Outcome:
    """P01."""
    jack = pairing.fed.jack
    alternating = tuple(tap for tap in pairing.taps if tap.outlet.current == "ac")
    untold = tuple(Gap("outlet current", tap.ref) for tap in pairing.taps if tap.outlet.current is None)
    if jack.current == "dc" and alternating:
        return Hit(f"AC comes from {say_taps(alternating)} and {say_jack(pairing.fed)} takes DC.")
    if jack.current is None and (alternating or untold):
        return Missing((*untold, Gap("jack current", say_jack(pairing.fed))))
    return Missing(untold) if jack.current == "dc" and untold else None


def judge_dc_into_ac(pairing: Pairing) -> Outcome:
    """P02."""
    jack = pairing.fed.jack
    direct = tuple(tap for tap in pairing.taps if tap.outlet.current == "dc")
    untold = tuple(Gap("outlet current", tap.ref) for tap in pairing.taps if tap.outlet.current is None)
    if jack.current == "ac" and direct:
        return Hit(f"DC comes from {say_taps(direct)} and {say_jack(pairing.fed)} takes AC.")
    if jack.current is None and len(direct) == len(pairing.taps):
        return Missing((Gap("jack current", say_jack(pairing.fed)),))
    return Missing(untold) if jack.current == "ac" and untold else None


def judge_polarity(pairing: Pairing) -> Outcome:
    """P05: the plug's polarity after the reversers in the lead."""
    jack = pairing.fed.jack
    if pairing.is_alternating:
        return None
    turned = pairing.adapters.count("reverser") % 2 == 1
    for tap in pairing.taps:
        given = tap.outlet.polarity
        arrives = OPPOSITE.get(given or "", "") if turned else given
        if given is not None and jack.polarity is not None and arrives != jack.polarity:
            after = " after the reverser" if turned else ""
            return Hit(f"{tap.ref} arrives {arrives}{after} and {say_jack(pairing.fed)} is {jack.polarity}.")
    if pairing.is_keyed:
        return None
    gaps = [Gap("outlet polarity", tap.ref) for tap in pairing.taps if tap.outlet.polarity is None]
    if jack.polarity is None:
        gaps.append(Gap("jack polarity", say_jack(pairing.fed)))
    return Missing(tuple(gaps)) if gaps else None


def judge_reverser_on_shared_return(pairing: Pairing) -> Outcome:
    """P07."""
    grouped = any(tap.outlet.group is not None for tap in pairing.taps)
    if "reverser" not in pairing.adapters or pairing.fed.jack.ground_pole != "negative":
        return None
    if not (grouped or pairing.shares_return):
        return None
    return Hit(
        f"{say_jack(pairing.fed)} hangs by a reverser on the shared return of {say_taps(pairing.taps)}."
    )


def judge_share(pairing: Pairing) -> Outcome:
    """P13: whether the pedal stands sharing its outlet."""
    fed = pairing.fed
    if not pairing.shares_outlet or fed.jack.share == "ok":
        return None
    if fed.jack.share is None:
        return Missing((Gap("share", say_jack(fed)),))
    outlets = say_taps(pairing.taps)
    if fed.jack.share == "never":
        return Hit(f"{say_jack(fed)} must never share an outlet, and shares {outlets}.", severity="fault")
    return Hit(f"{say_jack(fed)} stands sharing an outlet poorly, and shares {outlets}.")


def judge_connector(pairing: Pairing) -> Outcome:
    """P14."""
    plug, socket = pairing.plug, pairing.fed.jack.connector
    if "converter" in pairing.adapters:
        return None  # P26 asks about the converter
    outlets = say_taps(pairing.taps)
    if plug == "captive":
        return Missing((Gap("captive plug", outlets),))
    gaps = () if plug else (Gap("outlet connector", outlets),)
    if socket is None:
        gaps = (*gaps, Gap("jack connector", say_jack(pairing.fed)))
    if plug is None or socket is None:
        return Missing(gaps)
    if plug == socket:
        return None
    reason = MISMATCHES.get((plug, socket), "the two do not mate")
    return Hit(f"The plug of {outlets} is {plug}, the jack {say_jack(pairing.fed)} is {socket}: {reason}.")


def judge_switch(pairing: Pairing) -> Outcome:
    """P24: an outlet whose voltage can be changed by hand."""
    loose = tuple(tap for tap in pairing.taps if tap.is_selectable or tap.outlet.sag)
    return Hit(f"The voltage of {say_taps(loose)} can be changed by hand.") if loose else None


def judge_converter(pairing: Pairing) -> Outcome:
    """P26: a converter's own wiring is never recorded, only metered."""
    if "converter" not in pairing.adapters:
        return None
    return Missing((Gap("converter", say_jack(pairing.fed)),))


def judge_load_known(pairing: Pairing) -> Outcome:
    """P27; the cure names what such a pedal usually draws at most."""
    fed = pairing.fed
    if fed.load_ma is not None:
        return None
    most = TYPICAL_MOST_MA.get(fed.pedal.kind)
    plan_with = (
        f" Until then plan with {most} mA, the most such a pedal usually draws at 9 V." if most else ""
    )
    return Hit(
        f"Not recorded: the draw of {say_jack(fed)}.",
        cure=f"Measure it at its own voltage with all lights on and the loudest settings.{plan_with}",
    )


PAIR_TESTS: tuple[tuple[str, Callable[[Pairing], Outcome]], ...] = (
    ("P01", judge_ac_into_dc),
    ("P02", judge_dc_into_ac),
    ("P03", voltage.judge_over_voltage),
    ("P04", voltage.judge_under_voltage),
    ("P05", judge_polarity),
    ("P07", judge_reverser_on_shared_return),
    ("P13", judge_share),
    ("P14", judge_connector),
    *((one.rule, one.test) for one in (*BOTH_WAYS, *PARALLEL_CONDITIONS, *SERIES_CONDITIONS)),
    ("P24", judge_switch),
    ("P26", judge_converter),
    ("P27", judge_load_known),
    ("P28", voltage.judge_setting),
)
