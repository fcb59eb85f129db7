"""How messages call a part: `Low Ember (P4)`, or just `P4` when it has no name."""

from collections.abc import Iterable

from boardshop.core.index import PlanIndex, fold, split_end


def called(index: PlanIndex, ref: str) -> str:
    """The part with this ref, or of this jack: `Low Ember (P4)`, `Low Ember (P4.IN)`.

    A cable or plug type likewise: `Flat angle (J2)`.
    """
    folded = fold(split_end(ref)[0])
    part = index.pedals.get(folded) or index.plugs.get(folded) or index.cables.get(folded)
    return f"{part.name} ({ref})" if part is not None and part.name and part.name != ref else ref


def say_all(names: Iterable[str]) -> str:
    """`a`, `a and b`, `a, b and c`; blank for none."""
    *others, last = tuple(names) or ("",)
    return f"{', '.join(others)} and {last}" if others else last
