"""DC leads that come with a supply, in one cell: `4 x 450mm AWG 22 barrel 5.5/2.1; 2 x 900mm 0.5mm2`."""

from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from boardshop.core import plan as core
from boardshop.gear.amounts import FIGURE, parse_awg, parse_mm2, parse_whole
from boardshop.gear.notation.scanning import (
    Fact,
    NotationError,
    fact,
    length_fact,
    pieces_of,
    read_facts,
    show_bare,
    word_fact,
)
from boardshop.gear.notation.words import LISTS


def read_leads(text: str, unit: str) -> tuple[core.SupplyLead, ...]:
    """Raises NotationError."""
    return tuple(_lead(piece, unit) for piece in pieces_of(text))


def show_leads(leads: tuple[core.SupplyLead, ...]) -> str:
    return "; ".join(_lead_text(lead) for lead in leads)


def _facts(unit: str) -> list[Fact]:
    return [
        fact("count", r"(?P<value>[0-9]+)\s*[x×](?![a-z])", parse_whole),
        fact("awg", r"AWG[\s:]*(?P<value>[0-9]+)(?![.,]?[0-9])", parse_awg),
        fact("awg", r"(?P<value>[0-9]+)\s*AWG(?!\w)", parse_awg),
        fact("mm2", rf"(?P<value>{FIGURE})\s*(?:mm2|mm²|sqmm)(?!\w)", parse_mm2),
        length_fact("length", unit),
        word_fact("connector", LISTS["connector"]),
    ]


def _lead(piece: str, unit: str) -> core.SupplyLead:
    accepted = _("leads take how many, length, gauge and plug, such as 4 x %(length)s AWG 22 barrel 5.5/2.1.")
    facts: dict[str, Any] = read_facts(piece, _facts(unit), accepted % {"length": show_bare(450, unit)})
    if facts.get("count") == 0 or facts.get("length") == 0:
        raise NotationError(
            _("“%(piece)s” has a zero in it; leave out what is not there.") % {"piece": piece}
        )
    if "mm2" in facts:
        facts["mm2"] = float(facts["mm2"])
    return core.SupplyLead(**facts)


def _lead_text(lead: core.SupplyLead) -> str:
    parts = [
        f"{lead.count} x",
        "" if lead.length is None else f"{lead.length}mm",
        "" if lead.awg is None else f"AWG {lead.awg}",
        "" if lead.mm2 is None else f"{Decimal(str(lead.mm2)).normalize():f}mm2",
        lead.connector or "",
    ]
    return " ".join(part for part in parts if part)
