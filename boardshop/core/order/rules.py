"""Looking up the rules of order between two slots."""

from functools import lru_cache

from boardshop.core.order.pair_rule import PairRule
from boardshop.core.order.pair_rules import PAIR_RULES

__all__ = ["PAIR_RULES", "PairRule", "rules_for", "sorting_rules_for"]


@lru_cache(maxsize=4096)
def rules_for(first: str, then: str, school: str) -> tuple[PairRule, ...]:
    """The rows that want a pedal of slot ``first`` before one of slot ``then``."""
    return tuple(rule for rule in PAIR_RULES if school in rule.schools and rule.covers(first, then))


@lru_cache(maxsize=4096)
def sorting_rules_for(first: str, then: str, school: str) -> tuple[PairRule, ...]:
    """Those of them that a chain is sorted by; the receiver goes first even where a fuzz wants to."""
    if then == "wireless-receiver":
        return ()
    return tuple(rule for rule in rules_for(first, then, school) if rule.severity == "fault")
