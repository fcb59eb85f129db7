"""Whatever two boards are: no difference is told of equal ones, and none is passed over in silence."""

from dataclasses import fields, is_dataclass, replace
from random import Random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from boardshop.core.diff import KINDS, compare_plans
from boardshop.core.plan import BoardPlan, CableType, PlugType
from tests.core.documents import load as load_plan
from tests.core.random_boards import documents


def changed(value: Any, draw: Random) -> Any:
    """Another value of the same sort."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return value + 1
    if isinstance(value, str):
        return value + "x"
    return value


def without_empty_stock(plan: BoardPlan) -> BoardPlan:
    """A length of which there is none is no stock, however long it would be."""
    return replace(plan, stock=tuple(one for one in plan.stock if one.count))


def change_one(thing: Any, draw: Random) -> Any:
    """The same dataclass with one plain field changed, somewhere inside; refs and ends stay."""
    names = [f.name for f in fields(thing) if not _is_a_name(thing, f.name)]
    draw.shuffle(names)
    for name in names:
        value = getattr(thing, name)
        if is_dataclass(value) and not isinstance(value, type):
            new = change_one(value, draw)
        elif isinstance(value, tuple) and value and is_dataclass(value[0]):
            at = draw.randrange(len(value))
            new = (*value[:at], change_one(value[at], draw), *value[at + 1 :])
        elif isinstance(value, tuple):
            continue
        else:
            new = changed(value, draw)
        if new != value:
            return replace(thing, **{name: new})
    return thing


def _is_a_name(thing: Any, name: str) -> bool:
    """What other parts of the plan point to, or what only tells two things apart."""
    if isinstance(thing, CableType | PlugType) and name == "name":
        return True
    return name in ("ref", "source", "target", "cable", "plug", "plug_from", "plug_to", "text", "where")


@given(documents())
@settings(max_examples=60, deadline=None)
def test_equal_boards_differ_in_nothing(document: dict[str, Any]) -> None:
    assert compare_plans(load_plan(document), load_plan(document)) == ()


@given(documents(), st.integers(0, 2**32))
@settings(max_examples=300, deadline=None)
def test_a_changed_field_is_told(document: dict[str, Any], seed: int) -> None:
    before = without_empty_stock(load_plan(document))
    after = change_one(before, Random(seed))
    found = compare_plans(before, after)
    assert bool(found) == (before != without_empty_stock(after))
    assert all(one.kind in KINDS and one.sentence.endswith(".") for one in found)


@given(documents(), documents())
@settings(max_examples=60, deadline=None)
def test_any_two_boards_can_be_compared_both_ways(one: dict[str, Any], other: dict[str, Any]) -> None:
    first, second = load_plan(one), load_plan(other)
    assert bool(compare_plans(first, second)) == bool(compare_plans(second, first))


@given(documents())
@settings(max_examples=60, deadline=None)
def test_the_order_of_lists_means_nothing(document: dict[str, Any]) -> None:
    plan = load_plan(document)
    turned = replace(
        plan,
        pedals=plan.pedals[::-1],
        supplies=plan.supplies[::-1],
        scenes=plan.scenes[::-1],
        accepted=plan.accepted[::-1],
        stock=plan.stock[::-1],
        drawer=plan.drawer[::-1],
    )
    assert compare_plans(plan, turned) == ()


DROPPED = ("pedals", "sources", "amps", "computers", "links", "supplies", "feeds", "stock", "drawer")
DROPPED += ("pieces", "scenes", "accepted", "incomplete")


@given(documents(), st.integers(0, 2**32))
@settings(max_examples=200, deadline=None)
def test_an_entry_that_is_gone_or_new_is_told(document: dict[str, Any], seed: int) -> None:
    plan = without_empty_stock(load_plan(document))
    filled = [name for name in DROPPED if getattr(plan, name)]
    if not filled:
        return
    draw = Random(seed)
    name = draw.choice(filled)
    at = draw.randrange(len(getattr(plan, name)))
    entries = getattr(plan, name)
    less = replace(plan, **{name: (*entries[:at], *entries[at + 1 :])})
    assert compare_plans(plan, less)
    assert compare_plans(less, plan)


@given(documents())
@settings(max_examples=100, deadline=None)
def test_other_numbers_of_cable_and_plug_types_mean_nothing(document: dict[str, Any]) -> None:
    for key, letter in (("cables", "C"), ("plugs", "J")):
        for number, one in enumerate(document.get(key) or (), start=1):
            one["name"] = f"{letter} type {number}"
    plan = load_plan(document)
    assert compare_plans(plan, load_plan(_renumbered(document))) == ()


def _renumbered(value: Any) -> Any:
    """C1 becomes C101 wherever a cable or plug type is named."""
    if isinstance(value, dict):
        return {key: _other_number(key, one) for key, one in value.items()}
    return [_renumbered(one) for one in value] if isinstance(value, list) else value


def _other_number(key: str, value: Any) -> Any:
    names_a_type = key in ("ref", "cable", "plug", "plug_from", "plug_to") and isinstance(value, str)
    if names_a_type and value[:1] in ("C", "J") and value[1:].isdigit():
        return f"{value[0]}{int(value[1:]) + 100}"
    return _renumbered(value)
