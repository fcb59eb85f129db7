"""The pages that explain the kinds of pedal, as their templates read them."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _

from boardshop.core.kinds.places import (
    KIND_OF,
    KindRule,
    Place,
    places_of,
    rules_of,
    say_slots,
)
from boardshop.core.order.ranks import VINTAGE_BELOW_OHM
from boardshop.core.order.rules import PairRule
from boardshop.core.order.usual import shown_slot
from boardshop.core.vocabulary import DEFAULT_ROLES, SCHOOLS

TITLES = {"di": "DI", "eq": "EQ", "midi controller": "MIDI controller"}


@dataclass(frozen=True)
class Named:
    """A slot or kind as people say it, and the kind whose page it leads to."""

    kind: str
    name: str

    @property
    def title(self) -> str:
        """As a heading; short forms keep their capitals."""
        return TITLES.get(self.name, self.name[:1].upper() + self.name[1:])


@dataclass(frozen=True)
class PlaceRow:
    """One place of the kind; `school` is blank where both schools have it there."""

    school: str
    name: str
    settled_by: str
    is_ranked: bool
    before: list[Named]
    behind: list[Named]
    level: list[Named]


@dataclass(frozen=True)
class RuleRow:
    """`others` is empty where every other pedal is meant, or every effect; `school` is blank for both."""

    rule: PairRule
    is_first: bool
    meant: str
    others: list[Named]
    means_all_effects: bool
    school: str


def list_places(kind: str) -> list[PlaceRow]:
    """The kind's places by school; one row where the schools agree, none for a kind without numbers."""
    by_school = [(school, places_of(kind, school)) for school in SCHOOLS]
    if all(place.number is None for _school, places in by_school for place in places):
        return []
    rows: list[PlaceRow] = []
    for alike in zip(*(places for _school, places in by_school), strict=True):
        if len({replace(place, number=place.number and 1) for place in alike}) == 1:
            rows.append(_place_row(kind, "", alike[0]))
        else:
            rows += [_place_row(kind, school, place) for school, place in zip(SCHOOLS, alike, strict=True)]
    return rows


def _place_row(kind: str, school: str, place: Place) -> PlaceRow:
    return PlaceRow(
        school,
        shown_slot(place.slot),
        _settled_by(kind, place),
        place.number is not None,
        _all_named(place.before),
        _all_named(place.behind),
        _all_named(place.level),
    )


def _settled_by(kind: str, place: Place) -> str:
    """What is recorded of a pedal that stands there; blank where the kind says enough."""
    if kind == "fuzz":
        words = {"limit": VINTAGE_BELOW_OHM // 1000}
        if place.slot == kind:
            return _("input of %(limit)s kohm or more, or not recorded") % words
        return _("input below %(limit)s kohm") % words
    if place.slot == kind and not place.roles:
        return ""
    said = _role(*place.roles)
    return _("%(role)s, or none recorded") % {"role": said} if place.slot == kind else said


def _role(*roles: str) -> str:
    *others, last = roles
    return _("role %(role)s") % {"role": f"{', '.join(others)}{_(' or ')}{last}" if others else last}


def _meant(kind: str, slots: tuple[str, ...]) -> str:
    """Which of the kind's places a rule means; blank where it means all, or the kind has no other role."""
    usual = _role(DEFAULT_ROLES[kind]) if kind in DEFAULT_ROLES else ""
    return ", ".join(filter(None, (usual if slot == kind else shown_slot(slot) for slot in slots)))


def list_rules(kind: str) -> list[RuleRow]:
    return [_rule_row(kind, found) for found in rules_of(kind)]


def _rule_row(kind: str, found: KindRule) -> RuleRow:
    named, means_all = say_slots(found.others or ())
    schools = found.rule.schools
    return RuleRow(
        found.rule,
        found.is_first,
        _meant(kind, found.slots),
        _all_named(named),
        means_all,
        schools[0] if len(schools) < len(SCHOOLS) else "",
    )


def _all_named(slots: Iterable[str]) -> list[Named]:
    return [name_slot(slot) for slot in slots]


def name_slot(slot: str) -> Named:
    return Named(KIND_OF[slot], shown_slot(slot))
