"""Where a kind stands by itself in each school, and which rules of order speak of it.

Neighbours are read off the line of all kinds in their usual roles, sorted by the school's own numbers; the
further roles of a kind are set into that line one at a time.
"""

from dataclasses import dataclass

from boardshop.core.order.graph import CONTROL_KINDS
from boardshop.core.order.pair_rule import ANY
from boardshop.core.order.ranks import EFFECTS, RANKS, ROLE_SLOTS, slot_rank
from boardshop.core.order.rules import PAIR_RULES, PairRule
from boardshop.core.vocabulary import DEFAULT_ROLES, KINDS, ROLES

FURTHER_SLOTS = {"fuzz": ("vintage fuzz",), "noise-gate": ("four-jack gate",)}
"""Slots that a pedal takes by its values or wiring instead of by a role."""

LINE = tuple(slot for slot in RANKS if slot in KINDS or slot == "vintage fuzz")
"""The slots that neighbours are taken from: each kind in its usual role, and both sorts of fuzz."""


@dataclass(frozen=True, slots=True)
class Place:
    """One slot of a kind in one school; the neighbours are slots, in the order of the trade's list.

    ``roles`` are the recorded roles that put the kind there.  ``number`` is None where the slot has no rank:
    then there are no neighbours.  ``level`` are the slots between which and this one no move is counted.
    """

    slot: str
    roles: tuple[str, ...]
    number: int | None
    before: tuple[str, ...] = ()
    behind: tuple[str, ...] = ()
    level: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class KindRule:
    """A rule of order from one kind's side.

    ``others`` are the slots on the other side, None where every pedal is; ``is_first`` where the rule wants
    this kind in front of them; ``slots`` are those of the kind that the rule means, if not all of them.
    """

    rule: PairRule
    is_first: bool
    slots: tuple[str, ...]
    others: tuple[str, ...] | None


def list_kinds() -> tuple[str, ...]:
    """All kinds in the common order; those without a number last."""
    ranked = [kind for kind in KINDS if kind in RANKS]
    ranked.sort(key=lambda kind: RANKS[kind].common)
    return (*ranked, *(kind for kind in KINDS if kind not in RANKS))


def slots_of(kind: str) -> tuple[str, ...]:
    """Every slot that a pedal of this kind may take, the usual one first."""
    by_role = (slot for role, slot in ROLE_SLOTS.get(kind, {}).items() if role in ROLES)
    return tuple(dict.fromkeys((kind, *FURTHER_SLOTS.get(kind, ()), *by_role)))


KIND_OF = {slot: kind for kind in KINDS for slot in slots_of(kind)}
"""Whose slot it is."""


def places_of(kind: str, school: str) -> tuple[Place, ...]:
    """The kind's places in one school, the usual one first, then those of further roles or values."""
    places = []
    for slot in slots_of(kind):
        if slot != "four-jack gate":  # it stands in two places at once, as a gate and as what it listens to
            places.append(_place(kind, slot, school))
    return tuple(places)


def rules_of(kind: str) -> tuple[KindRule, ...]:
    """The rules that speak of this kind, those for every pedal last; none for what passes no sound."""
    if kind in CONTROL_KINDS:
        return ()
    own = slots_of(kind)
    named = [found for rule in PAIR_RULES for found in _sides(rule, own)]
    spoken = {found.rule for found in named}
    open_ended = [found for rule in PAIR_RULES if rule not in spoken for found in _open_sides(rule)]
    return (*named, *open_ended)


def say_slots(slots: tuple[str, ...]) -> tuple[tuple[str, ...], bool]:
    """The slots to name one by one, and whether all effects are meant beside them.

    A kind that is meant in all its slots is named once.
    """
    means_all = set(EFFECTS) <= set(slots)
    rest = [slot for slot in slots if not (means_all and slot in EFFECTS)]
    whole = {kind for kind in KINDS if set(slots_of(kind)) <= set(rest)}
    return tuple(s for s in rest if KIND_OF[s] not in whole or KIND_OF[s] == s), means_all


def number_of(slot: str, school: str) -> int | None:
    """The trade's own number, finer than ``slot_rank`` where a school counts a whole decade as equal."""
    rank = RANKS.get(slot)
    if rank is None:
        return None
    return rank.dynamics_first if school == "dynamics-first" else rank.common


def _place(kind: str, slot: str, school: str) -> Place:
    roles = _roles(kind, slot)
    number = number_of(slot, school)
    if number is None:
        return Place(slot, roles, None)
    line = {other: found for other in LINE if (found := number_of(other, school)) is not None}
    line.pop(slot, None)
    # Both sorts of fuzz are one kind; none is its own neighbour.
    others = {other: found for other, found in line.items() if KIND_OF[other] != kind}
    nearest = max((found for found in others.values() if found < number), default=None)
    next_one = min((found for found in others.values() if found > number), default=None)
    rank = slot_rank(slot, school)
    return Place(
        slot,
        roles,
        number,
        tuple(other for other, found in others.items() if found == nearest),
        tuple(other for other, found in others.items() if found == next_one),
        tuple(other for other in others if slot_rank(other, school) == rank),
    )


def _roles(kind: str, slot: str) -> tuple[str, ...]:
    if slot == kind:
        return (DEFAULT_ROLES[kind],) if kind in DEFAULT_ROLES else ()
    return tuple(role for role in ROLES if ROLE_SLOTS.get(kind, {}).get(role) == slot)


def _sides(rule: PairRule, own: tuple[str, ...]) -> list[KindRule]:
    """The sides on which the rule names one of these slots."""
    found = []
    for is_first, here, there in ((True, rule.first, rule.then), (False, rule.then, rule.first)):
        meant = tuple(slot for slot in own if slot in here)
        if meant:
            others = None if there == ANY else there
            found.append(KindRule(rule, is_first, () if meant == own else meant, others))
    return found


def _open_sides(rule: PairRule) -> list[KindRule]:
    """The side on which the rule means every pedal."""
    sides = ((True, rule.first, rule.then), (False, rule.then, rule.first))
    return [KindRule(rule, is_first, (), there) for is_first, here, there in sides if here == ANY != there]
