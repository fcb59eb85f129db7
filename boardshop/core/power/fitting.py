"""Whether an outlet fits a jack: the table of `matching.PAIR_TESTS` read for yes, no or not known.

Sharing and limits depend on what else hangs on the outlet and are not asked here.
"""

from boardshop.core.power.matching import OPPOSITE, PAIR_TESTS
from boardshop.core.power.pairing import Pairing
from boardshop.core.power.rules import RULES, Hit, Missing
from boardshop.core.vocabulary import SEVERITIES

ASKED_ELSEWHERE = ("P07", "P13", "P24", "P26", "P27")
"""Marks and meter readings that every such feed needs, sharing, and the draw."""

TAKEN_AS_PRINTED = "regulated"
"""Where only the regulation of an outlet is not recorded, the voltage printed on it counts."""

WRONG = SEVERITIES[: SEVERITIES.index("fault") + 1]


def does_fit(pairing: Pairing) -> bool | None:
    """Voltage, current, polarity, connector and the conditions of joining; None where one is not recorded."""
    is_known = True
    for rule_id, test in PAIR_TESTS:
        outcome = None if rule_id in ASKED_ELSEWHERE else test(pairing)
        if isinstance(outcome, Hit) and (outcome.severity or RULES[rule_id].severity) in WRONG:
            return False
        if isinstance(outcome, Missing) and any(gap.kind != TAKEN_AS_PRINTED for gap in outcome.gaps):
            is_known = False
    return True if is_known else None


def adapters_needed(pairing: Pairing) -> tuple[str, ...]:
    """The reverser and the converter without which this jack cannot be fed from these outlets."""
    needed: list[str] = []
    jack, plug = pairing.fed.jack, pairing.plug
    given = pairing.taps[0].outlet.polarity
    meets = not (pairing.is_alternating or pairing.is_keyed)
    if meets and given is not None and jack.polarity == OPPOSITE[given]:
        needed.append("reverser")
    if None not in (plug, jack.connector) and plug not in (jack.connector, "captive"):
        needed.append("converter")
    return tuple(needed)
