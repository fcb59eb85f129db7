"""All rules of order as one list, read off the tables that the checks apply."""

from __future__ import annotations

from dataclasses import dataclass

from boardshop.boards.pages.kinds import Named, name_slot
from boardshop.core.kinds.places import say_slots
from boardshop.core.order.pair_rule import ANY, PairRule
from boardshop.core.order.rules import PAIR_RULES
from boardshop.core.order.standing_rules import STANDING_RULES, StandingRule
from boardshop.core.vocabulary import SCHOOLS


@dataclass(frozen=True)
class Side:
    """The kinds on one side of a rule; with neither, every pedal is meant."""

    means_all_effects: bool
    named: list[Named]


@dataclass(frozen=True)
class RuleLine:
    """A rule between two pedals has `first` and `then`, any other one says what it wants in `about`."""

    id: str
    severity: str
    about: str
    first: Side | None
    then: Side | None
    why: str
    unless: str
    kept_for: str
    basis: str
    school: str
    silent_because: str


def list_rule_lines() -> list[RuleLine]:
    """The trade's rules by number, then those with a name, then this program's own."""
    lines = [_pair_line(rule) for rule in PAIR_RULES] + [_line(rule) for rule in STANDING_RULES.values()]
    return sorted(lines, key=lambda line: (line.id.startswith("O"), not line.id[1:].isdigit(), line.id))


def _pair_line(rule: PairRule) -> RuleLine:
    return RuleLine(
        id=rule.id,
        severity=rule.severity,
        about="",
        first=_side(rule.first),
        then=_side(rule.then),
        why=rule.why,
        unless=rule.unless,
        kept_for=rule.kept_for,
        basis=rule.basis,
        school=rule.schools[0] if len(rule.schools) < len(SCHOOLS) else "",
        silent_because="",
    )


def _side(slots: tuple[str, ...]) -> Side:
    if slots == ANY:
        return Side(False, [])
    named, means_all = say_slots(slots)
    return Side(means_all, [name_slot(slot) for slot in named])


def _line(rule: StandingRule) -> RuleLine:
    return RuleLine(
        id=rule.id,
        severity=rule.severity,
        about=rule.about,
        first=None,
        then=None,
        why=rule.why,
        unless=rule.unless,
        kept_for=rule.kept_for,
        basis=rule.basis,
        school="",
        silent_because=rule.silent_because,
    )
