"""The numbers on the balloons, the same in drawing, strip and papers: where the signal meets each pedal."""

from itertools import pairwise

from boardshop.core.order import list_chains
from boardshop.core.plan import BoardPlan


def number_pedals(plan: BoardPlan) -> dict[str, int]:
    """Ref -> 1, 2, 3 ... for every pedal that the signal reaches; branches in turn, then what joins them.

    Where a loop leads back to an earlier pedal, the way that closes it is left out.
    """
    pedals = {pedal.ref for pedal in plan.pedals}
    followers: dict[str, list[str]] = {}
    for chain in list_chains(plan):
        refs = [ref for ref in chain.refs if ref in pedals]
        for ref in refs:
            followers.setdefault(ref, [])
        for one, other in pairwise(refs):
            if other not in followers[one]:
                followers[one].append(other)
    return {ref: number for number, ref in enumerate(_sort_in_order(followers), start=1)}


def _sort_in_order(followers: dict[str, list[str]]) -> list[str]:
    """Reverse postorder of a depth-first walk: what comes before stands before (Tarjan 1976, loops apart)."""
    seen: set[str] = set()
    behind: list[str] = []

    def walk(ref: str) -> None:
        seen.add(ref)
        for follower in reversed(followers[ref]):
            if follower not in seen:
                walk(follower)
        behind.append(ref)

    for ref in reversed(followers):
        if ref not in seen and not any(ref in others for others in followers.values()):
            walk(ref)
    for ref in reversed(followers):
        if ref not in seen:
            walk(ref)
    return behind[::-1]
