"""Cable and plug types by what they are called: their refs in a document are only numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from functools import lru_cache

from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan, CableType, PlugType

type TypeNames = dict[str, str]
"""From a folded ref to what the type is called, unlike any other of the plan."""


@lru_cache(maxsize=8)
def name_types(plan: BoardPlan) -> TypeNames:
    return _named(plan.cables) | _named(plan.plugs)


def _named(types: Iterable[CableType | PlugType]) -> TypeNames:
    names: TypeNames = {}
    seen: Counter[str] = Counter()
    for one in types:
        name = one.name or one.ref
        seen[name] += 1
        names[fold(one.ref)] = name if seen[name] == 1 else f"{name} ({seen[name]})"
    return names


def call_type(plan: BoardPlan, ref: str | None) -> str:
    """What the type is called; `none chosen` for None."""
    return "none chosen" if ref is None else name_types(plan).get(fold(ref), ref)
