"""What a meter shows, as people write it down: `0.12`, `0,12 ohm`, `OL`, `38 pF`, `0.15 V`."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Literal

from django.utils.translation import gettext as _

from boardshop.gear.amounts import FIGURE, AmountError, trimmed
from boardshop.gear.models.made_cables import MOST_DROP_MV, MOST_MOHM, MOST_OHM, MOST_PF

type MeterReading = Decimal | Literal["over"]

OVER_WORDS = ("ol", "o.l", "o.l.", "0l", "over", "over range", "open", "∞", "inf")
"""What meters show, and people write, where the resistance is beyond what the meter can tell."""
LONGEST = 40

OHMS = {"": Decimal(1), "r": Decimal(1), "ohm": Decimal(1), "ohms": Decimal(1), "ω": Decimal(1)}
MEGOHMS = {"": Decimal(1), "mohm": Decimal(1), "mω": Decimal(1), "meg": Decimal(1), "gohm": Decimal(1000)}
MEGOHMS |= {"gω": Decimal(1000), "kohm": Decimal("0.001"), "kω": Decimal("0.001")}
PICOFARADS = {"": Decimal(1), "pf": Decimal(1), "nf": Decimal(1000)}
VOLTS_AS_MV = {"": Decimal(1000), "v": Decimal(1000), "mv": Decimal(1)}


def parse_ohm(text: str) -> MeterReading:
    """Ohm with up to three decimals, or over range."""
    words = _(
        "“%(text)s” is no reading in ohm; write a figure such as 0.12, or OL where the meter shows that."
    )
    return _read(text, OHMS, MOST_OHM, 3, words)


def parse_mohm(text: str) -> MeterReading:
    """Mohm with up to three decimals, or over range; a bare number counts in Mohm."""
    words = _(
        "“%(text)s” is no reading in Mohm; write a figure such as 25, or OL where the meter shows that."
    )
    return _read(text, MEGOHMS, MOST_MOHM, 3, words)


def parse_pf(text: str) -> Decimal:
    words = _("“%(text)s” is no capacitance; write picofarads such as 38, 38 pF or 0.4 nF.")
    return _figure(text, PICOFARADS, MOST_PF, 1, words)


def parse_drop(text: str) -> Decimal:
    """Whole mV; a bare number counts in volts."""
    words = _("“%(text)s” is no drop; write volts such as 0.12, or 120 mV.")
    return _figure(text, VOLTS_AS_MV, MOST_DROP_MV, 0, words)


PARSERS: dict[str, tuple[Callable[[str], MeterReading], str]] = {
    "tip_ohm": (parse_ohm, "ohm"),
    "sleeve_ohm": (parse_ohm, "ohm"),
    "insulation_mohm": (parse_mohm, "Mohm"),
    "wiggle_ohm": (parse_ohm, "ohm"),
    "pf": (parse_pf, "pF"),
    "drop_mv": (parse_drop, "V"),
}
"""How each reading is read, and the unit that stands beside it."""


def _read(text: str, units: Mapping[str, Decimal], most: int, decimals: int, words: str) -> MeterReading:
    if " ".join(text.lower().split()) in OVER_WORDS:
        return "over"
    return _figure(text, units, most, decimals, words)


def _figure(text: str, units: Mapping[str, Decimal], most: int, decimals: int, words: str) -> Decimal:
    typed = text.strip()
    shown = {"text": typed[:LONGEST]}
    if re.match(r"[-−–]", typed):
        raise AmountError(_("“%(text)s” is below zero, and no meter shows that; look at the sign.") % shown)
    match = re.fullmatch(rf"({FIGURE})\s*([^0-9.,\s]*)", typed) if len(typed) <= LONGEST else None
    factor = units.get(match[2].lower()) if match else None
    if match is None or factor is None:
        raise AmountError(words % shown)
    value = Decimal(match[1].replace(",", ".")) * factor
    if value > most:
        said = _("“%(text)s” is beyond what such a reading can be; look for a slipped point or a wrong unit.")
        raise AmountError(said % shown)
    return trimmed(round(value, decimals))
