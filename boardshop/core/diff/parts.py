"""Pedals, supplies, instruments, amps and computers: there or not, where, which, and how played."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, fields
from typing import Any

from boardshop.core.diff.difference import Difference
from boardshop.core.diff.facts import field_names, say, tell_counts, tell_fields, tell_named
from boardshop.core.index import fold
from boardshop.core.naming import say_all
from boardshop.core.plan import Amp, BoardPlan, Computer, Pedal, Place, Source, Supply, SupplyPlace

PLAYED = ("role", "on", "use", "together", "turns", "pinned", "settings")
LISTED = ("jacks", "power", "outlets", "leads")
PEDAL_FACTS = field_names(Pedal, "ref", "place", "kind", "name", "maker", *PLAYED, *LISTED)
SUPPLY_FACTS = field_names(Supply, "ref", "place", "model", *LISTED)


@dataclass(frozen=True, slots=True)
class Sort:
    """How one sort of part is compared: what it is called, and what is told of two with the same ref."""

    of: Callable[[BoardPlan], Iterable[Any]]
    call: Callable[[Any], str]
    tell: Callable[[str, Any, Any], Iterator[Difference]]


def compare_parts(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    for sort in SORTS:
        old = {fold(one.ref): one for one in sort.of(before)}
        new = {fold(one.ref): one for one in sort.of(after)}
        if old == new and [one.ref for one in old.values()] == [one.ref for one in new.values()]:
            continue
        yield from _come_and_gone(sort, before, after, old, new)
        for key, one in new.items():
            if key in old and one != old[key]:
                yield from _tell_both(sort, old[key], one)


def _tell_both(sort: Sort, old: Any, new: Any) -> Iterator[Difference]:
    if old.ref != new.ref:
        yield Difference("renamed", (new.ref,), f"{old.ref} is now written {new.ref}.")
    yield from sort.tell(sort.call(new), old, new)


def _come_and_gone(
    sort: Sort, before: BoardPlan, after: BoardPlan, old: dict[str, Any], new: dict[str, Any]
) -> Iterator[Difference]:
    """What came and went, with the cables that did so with it; a new ref for the same thing says so."""
    came, gone = [new[key] for key in new if key not in old], [old[key] for key in old if key not in new]
    for one in list(gone):
        same = next((other for other in came if _is_same(one, other)), None)
        if same is not None:
            came.remove(same)
            gone.remove(one)
            yield Difference("renamed", (same.ref,), f"{sort.call(one)} has the ref {same.ref} now.")
    for one in came:
        links = say_all(_links_only_at(after, before, one.ref))
        yield Difference("added", (one.ref,), f"{sort.call(one)} was put on the board{_with(links)}.")
    for one in gone:
        links = say_all(_links_only_at(before, after, one.ref))
        yield Difference("removed", (one.ref,), f"{sort.call(one)} was taken off the board{_with(links)}.")


def _with(links: str) -> str:
    return f", with {links}" if links else ""


def _is_same(one: Any, other: Any) -> bool:
    return all(getattr(one, f.name) == getattr(other, f.name) for f in fields(one) if f.name != "ref")


def _links_only_at(plan: BoardPlan, other: BoardPlan, ref: str) -> list[str]:
    """Links of this plan at that part which the other plan has not."""
    there = {fold(link.ref) for link in other.links}
    ends = [
        (link, {fold(end.partition(".")[0]) for end in (link.source, link.target)}) for link in plan.links
    ]
    return [link.ref for link, refs in ends if fold(ref) in refs and fold(link.ref) not in there]


def call_pedal(pedal: Pedal) -> str:
    return f"{pedal.name} ({pedal.ref})" if pedal.name and pedal.name != pedal.ref else pedal.ref


def call_supply(supply: Supply) -> str:
    return f"{supply.model} ({supply.ref})" if supply.model else supply.ref


def is_exchanged(old: Pedal | Supply, new: Pedal | Supply) -> bool:
    """Whether another thing stands under the same ref now; then the ref alone may be said of both."""
    if isinstance(old, Pedal) and isinstance(new, Pedal):
        return (old.maker, old.name, old.kind) != (new.maker, new.name, new.kind)
    return isinstance(old, Supply) and isinstance(new, Supply) and old.model != new.model


def _tell_pedal(of: str, old: Pedal, new: Pedal) -> Iterator[Difference]:
    subject = (new.ref,)
    of = new.ref if is_exchanged(old, new) else of
    if old.place != new.place:
        yield Difference("moved", subject, _say_move(of, old.place, new.place))
    for sentence in tell_fields(of, old, new, PLAYED):
        yield Difference("set", subject, sentence)
    model = (old.maker, old.name, old.kind), (new.maker, new.name, new.kind)
    if is_exchanged(old, new):
        was = ", ".join(filter(None, (" ".join(filter(None, model[0][:2])), old.kind)))
        now = ", ".join(filter(None, (" ".join(filter(None, model[1][:2])), new.kind)))
        yield Difference("exchanged", subject, f"{new.ref} is now {now}; it was {was}.")
        return
    for sentence in tell_fields(of, old, new, PEDAL_FACTS):
        yield Difference("gear", subject, sentence)
    for sentence in tell_named(of, old.jacks, new.jacks, "jack"):
        yield Difference("gear", subject, sentence)
    for sentence in tell_named(of, old.power, new.power, "power jack"):
        yield Difference("gear", subject, sentence)


def _tell_supply(of: str, old: Supply, new: Supply) -> Iterator[Difference]:
    subject = (new.ref,)
    of = new.ref if is_exchanged(old, new) else of
    if old.place != new.place:
        yield Difference("moved", subject, _say_move(of, old.place, new.place))
    if is_exchanged(old, new):
        yield Difference(
            "exchanged", subject, f"{new.ref} is now {say('', new.model)}; it was {say('', old.model)}."
        )
        return
    for sentence in tell_fields(of, old, new, SUPPLY_FACTS):
        yield Difference("gear", subject, sentence)
    for sentence in tell_named(of, old.outlets, new.outlets, "outlet"):
        yield Difference("gear", subject, sentence)
    for sentence in tell_counts(f"With {of} come", old.leads, new.leads):
        yield Difference("gear", subject, sentence)


def _tell_end(of: str, old: Any, new: Any) -> Iterator[Difference]:
    for sentence in tell_fields(of, old, new, field_names(type(new), "ref", *LISTED)):
        yield Difference("gear", (new.ref,), sentence)
    for sentence in tell_named(of, getattr(old, "jacks", ()), getattr(new, "jacks", ()), "jack"):
        yield Difference("gear", (new.ref,), sentence)


def _say_move(of: str, old: Place | SupplyPlace | None, new: Place | SupplyPlace | None) -> str:
    if new is None:
        return f"{of} was taken off its place, {_say_place(old)}."
    if old is None:
        return f"{of} was placed at {_say_place(new)}."
    if (old.x, old.y) == (new.x, new.y) and _is_under(old) == _is_under(new):
        return f"{of} was turned from {old.turn}° to {new.turn}°."
    return f"{of} moved from {_say_place(old)} to {_say_place(new)}."


def _is_under(place: Place | SupplyPlace | None) -> bool:
    return isinstance(place, SupplyPlace) and place.under


def _say_place(place: Place | SupplyPlace | None) -> str:
    if place is None:
        return "no place"
    turn = f", turned {place.turn}°" if place.turn else ""
    return f"x {place.x} mm, y {place.y} mm{turn}{', under the frame' if _is_under(place) else ''}"


def _call_ref(part: Source | Amp | Computer) -> str:
    return part.ref


SORTS = (
    Sort(lambda plan: plan.pedals, call_pedal, _tell_pedal),
    Sort(lambda plan: plan.supplies, call_supply, _tell_supply),
    Sort(lambda plan: plan.sources, _call_ref, _tell_end),
    Sort(lambda plan: plan.amps, _call_ref, _tell_end),
    Sort(lambda plan: plan.computers, _call_ref, _tell_end),
)
