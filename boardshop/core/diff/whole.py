"""The board as a whole: name, venue, limits and frame; what is kept, scenes, pieces, stock and types."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import Any

from boardshop.core.diff.difference import Difference
from boardshop.core.diff.facts import field_names, say, tell_counts, tell_fields
from boardshop.core.diff.types import call_type, name_types
from boardshop.core.index import fold
from boardshop.core.naming import say_all
from boardshop.core.plan import Accepted, BoardPlan, CableType, Frame, Incomplete, PlugType, Scene, Venue
from boardshop.core.shop_rules import Rules


def compare_whole(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    for sentence in tell_fields("The board", before, after, ("name", "note")):
        yield Difference("board", (), sentence)
    venue = before.venue or Venue(), after.venue or Venue()
    for sentence in tell_fields("Venue", *venue, field_names(Venue)):
        yield Difference("board", (), sentence)
    for sentence in tell_fields("Limits", before.rules, after.rules, field_names(Rules)):
        yield Difference("board", (), sentence)
    for sentence in tell_fields("Frame", before.frame, after.frame, field_names(Frame)):
        yield Difference("frame", (), sentence)
    yield from _compare_kept(before, after)
    yield from _compare_scenes(before, after)
    yield from _compare_pieces(before, after)
    yield from _compare_stock(before, after)
    for sentence in tell_counts("In the drawer:", before.drawer, after.drawer):
        yield Difference("stock", (), sentence)
    yield from _compare_types(before, after)
    yield from _compare_incomplete(before, after)


def _pair[T](
    before: Iterable[T], after: Iterable[T], key: Callable[[T], Any]
) -> list[tuple[T | None, T | None]]:
    """What is left when equal rows are set aside, former and later row of one key side by side."""
    old, new = Counter(before), Counter(after)
    gone, came = list((old - new).elements()), list((new - old).elements())
    pairs: list[tuple[T | None, T | None]] = []
    for row in came:
        former = next((one for one in gone if key(one) == key(row)), None)
        if former is not None:
            gone.remove(former)
        pairs.append((former, row))
    return pairs + [(row, None) for row in gone]


def _compare_kept(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    old, new = (
        [replace(one, subjects=tuple(sorted(one.subjects))) for one in plan.accepted]
        for plan in (before, after)
    )
    for was, now in _pair(old, new, _key_of_kept):
        if now is None:
            assert was is not None
            yield Difference("kept", was.subjects, f"{_call_kept(was)} is no longer kept on purpose.")
        elif was is None:
            words = f"{_call_kept(now)} is kept on purpose: {say('why', now.why)}."
            yield Difference("kept", now.subjects, words)
        else:
            for sentence in tell_fields(_call_kept(now), was, now, field_names(Accepted, "subjects")):
                yield Difference("kept", now.subjects, sentence)
            if was.subjects != now.subjects:
                yield Difference("kept", now.subjects, f"{_call_kept(now)} is written otherwise.")


def _key_of_kept(one: Accepted) -> tuple[str, tuple[str, ...]]:
    return one.rule, tuple(sorted(map(fold, one.subjects)))


def _call_kept(one: Accepted) -> str:
    return f"{one.rule} of {say_all(one.subjects)}" if one.subjects else one.rule


def _compare_scenes(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    old, new = (
        [replace(one, on=tuple(sorted(one.on, key=_by_number))) for one in plan.scenes]
        for plan in (before, after)
    )
    for was, now in _find_renamed(_pair(old, new, lambda scene: fold(scene.name))):
        if now is None:
            assert was is not None
            yield Difference("set", (), f"Scene {was.name} was taken away.")
        elif was is None:
            yield Difference("set", now.on, f"Scene {now.name} was added, with {_say_on(now)}.")
        else:
            yield from _compare_scene(was, now)


def _by_number(ref: str) -> tuple[int, str]:
    """P2 before P10."""
    return len(ref), ref


type _ScenePair = tuple[Scene | None, Scene | None]


def _find_renamed(pairs: list[_ScenePair]) -> list[_ScenePair]:
    """A scene that went and one that came with the same pedals are one with another name."""
    gone = [was for was, now in pairs if was is not None and now is None]
    found: list[_ScenePair] = []
    for was, now in pairs:
        if was is None and now is not None:
            former = next((one for one in gone if one.on == now.on), None)
            if former is not None:
                gone.remove(former)
            found.append((former, now))
        elif now is not None:
            found.append((was, now))
    return found + [(was, None) for was in gone]


def _compare_scene(was: Scene, now: Scene) -> Iterator[Difference]:
    if was.on != now.on:
        yield Difference("set", now.on, f"Scene {now.name} has {_say_on(now)} on, before {_say_on(was)}.")
    if was.name != now.name:
        how = "written" if fold(was.name) == fold(now.name) else "called"
        yield Difference("set", now.on, f"Scene {was.name} is now {how} {now.name}.")


def _say_on(scene: Scene) -> str:
    return say_all(scene.on) or "nothing"


def _compare_pieces(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    old, new = ({fold(piece.ref): piece for piece in plan.pieces} for plan in (before, after))
    for key, piece in new.items():
        words = f"{piece.cut_mm} mm of {call_type(after, piece.cable)}"
        if key not in old:
            yield Difference("re-cut", (piece.ref,), f"A further piece {piece.ref} is to be cut, {words}.")
            continue
        was = f"{old[key].cut_mm} mm of {call_type(before, old[key].cable)}"
        if words != was or piece.ref != old[key].ref:
            yield Difference("re-cut", (piece.ref,), f"Piece {piece.ref}: {words} instead of {was}.")
    for key, piece in old.items():
        if key not in new:
            yield Difference("re-cut", (), f"Piece {piece.ref} is no longer to be cut.")


def _compare_stock(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    """Lengths on the shelf, counted."""
    old, new = (_count_stock(plan) for plan in (before, after))
    for key in dict.fromkeys((*new, *old)):
        if old[key] != new[key]:
            cable, length, kind = key
            words = f"In stock: {new[key]} × {length} mm {kind} of {cable}, before {old[key]}."
            yield Difference("stock", (), words)


def _count_stock(plan: BoardPlan) -> Counter[tuple[str, int, str]]:
    counted: Counter[tuple[str, int, str]] = Counter()
    for one in plan.stock:
        counted[call_type(plan, one.cable), one.length, one.kind] += one.count
    return counted


def _compare_types(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    """Facts of types that both have; one that only one of them has is told where it is used, if it is."""
    for kind, listed in ((CableType, "cables"), (PlugType, "plugs")):
        names = field_names(kind, "ref", "name")
        old, new = (_by_name(plan, getattr(plan, listed)) for plan in (before, after))
        for name, one in new.items():
            if name in old:
                for sentence in tell_fields(name, old[name], one, names):
                    yield Difference("gear", (), sentence)
            elif fold(one.ref) not in _used_types(after):
                yield Difference("gear", (), f"{name} was added, used by nothing.")
        for name, one in old.items():
            if name not in new and fold(one.ref) not in _used_types(before):
                yield Difference("gear", (), f"{name}, used by nothing, is gone.")


def _used_types(plan: BoardPlan) -> set[str]:
    refs = [ref for link in plan.links for ref in (link.cable, link.plug_from, link.plug_to)]
    refs += [feed.lead.plug for feed in plan.feeds if feed.lead]
    refs += [piece.cable for piece in plan.pieces] + [length.cable for length in plan.stock]
    return {fold(ref) for ref in refs if ref}


def _by_name(plan: BoardPlan, types: Iterable[CableType | PlugType]) -> dict[str, CableType | PlugType]:
    names = name_types(plan)
    return {names[fold(one.ref)]: one for one in types}


TYPE_KEYS = ("cable", "plug", "plug_from", "plug_to")


def _name_types_in(plan: BoardPlan, one: Incomplete) -> Incomplete:
    """With the types that its text points to by what they are called, as their refs are only numbers."""
    return replace(one, text=json.dumps(_with_type_names(plan, json.loads(one.text))))


def _with_type_names(plan: BoardPlan, value: Any) -> Any:
    if isinstance(value, list):
        return [_with_type_names(plan, item) for item in value]
    if not isinstance(value, dict):
        return value
    return {
        key: call_type(plan, item)
        if key in TYPE_KEYS and isinstance(item, str)
        else _with_type_names(plan, item)
        for key, item in value.items()
    }


def _compare_incomplete(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    old, new = (Counter(_name_types_in(plan, one) for one in plan.incomplete) for plan in (before, after))
    for one in (new - old).elements():
        yield Difference(
            "gear", (), f"{one.where}: an entry lacks {say_all(one.lacks)} and is kept as it is."
        )
    for one in (old - new).elements():
        yield Difference("gear", (), f"{one.where}: the entry that lacked {say_all(one.lacks)} is gone.")
