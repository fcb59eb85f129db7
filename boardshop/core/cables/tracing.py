"""One cable after the other as the signal takes them: what comes before a link and what follows it."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from boardshop.core.index import fold
from boardshop.core.order.paths import signal_paths
from boardshop.core.plan import BoardPlan


@dataclass(frozen=True, slots=True)
class Neighbours:
    """Refs of the links met before and after on the paths of the signal; several where it splits or joins."""

    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()


@lru_cache(maxsize=32)
def list_neighbours(plan: BoardPlan) -> dict[str, Neighbours]:
    """By folded ref of each link on a path of the signal; a link on no path is left out."""
    before: dict[str, dict[str, None]] = {}
    after: dict[str, dict[str, None]] = {}
    for path in signal_paths(plan):
        for link in path.links:
            before.setdefault(fold(link.ref), {})
            after.setdefault(fold(link.ref), {})
        for one, other in pairwise(path.links):
            after[fold(one.ref)][other.ref] = None
            before[fold(other.ref)][one.ref] = None
    return {key: Neighbours(tuple(before[key]), tuple(after[key])) for key in before}


def neighbours_of(plan: BoardPlan, ref: str) -> Neighbours:
    return list_neighbours(plan).get(fold(ref), Neighbours())
