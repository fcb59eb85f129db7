"""All rules of power as one page reads them, off the tables that the checks apply."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from boardshop.core.power.conditions import (
    BOTH_WAYS,
    CHAIN_CONDITIONS,
    PARALLEL_CONDITIONS,
    SERIES_CONDITIONS,
    JoiningCondition,
)
from boardshop.core.power.connectors import CONNECTOR_NOTES, MISMATCHES
from boardshop.core.power.mains_notes import MAINS_CAUTIONS, MAINS_CHECKS, REGIONS, WIRE_COLOURS
from boardshop.core.power.rules import RULES


@dataclass(frozen=True)
class ConditionLine:
    """`way` is series or parallel; blank for both."""

    way: str
    rule: str
    severity: str
    wants: str


def list_conditions() -> list[ConditionLine]:
    tables = (("", BOTH_WAYS), ("parallel", PARALLEL_CONDITIONS), ("series", SERIES_CONDITIONS))
    return [_line(way, one) for way, table in tables for one in table]


def build_power_rules() -> dict[str, Any]:
    return {
        "rules": list(RULES.values()),
        "conditions": list_conditions(),
        "chain": CHAIN_CONDITIONS,
        "connectors": CONNECTOR_NOTES,
        "mismatches": [(plug, jack, says) for (plug, jack), says in MISMATCHES.items()],
        "checks": MAINS_CHECKS,
        "cautions": MAINS_CAUTIONS,
        "colours": WIRE_COLOURS,
        "regions": REGIONS,
    }


def _line(way: str, one: JoiningCondition) -> ConditionLine:
    return ConditionLine(way, one.rule, one.severity or RULES[one.rule].severity, one.wants)
