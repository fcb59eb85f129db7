"""All rules of cables and tone as one page reads them, off the tables that the checks apply."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from boardshop.core.cables.rules import CABLE_RULES
from boardshop.core.tone.rules import NOTES, TONE_RULES


@dataclass(frozen=True)
class RuleLine:
    """One rule; ``severities`` worst first, none for what is only said beside the figures."""

    id: str
    severities: tuple[str, ...]
    when: str
    cure: str
    basis: str


def list_cable_rules() -> list[RuleLine]:
    return [
        RuleLine(rule, (row.severity,), row.when, row.cure, row.basis) for rule, row in CABLE_RULES.items()
    ]


def list_tone_rules() -> list[RuleLine]:
    return [RuleLine(rule, row.severities, row.when, row.cure, row.basis) for rule, row in TONE_RULES.items()]


def build_cable_rules() -> dict[str, Any]:
    return {"cable_rules": list_cable_rules(), "tone_rules": list_tone_rules(), "notes": NOTES}
