"""Cut plans as a person makes them, and how full a length can get: starts and bounds for the solver."""

from collections.abc import Callable, Sequence

from boardshop.core.cables.cut_problem import Counts, CutProblem, Cutting, Lot, cost_of

MOST_ROOM = 1_000_000
"""Lengths in mm up to which exact answers are looked for; cable drums hold less."""

type _Fill = Callable[[CutProblem, int, Sequence[int]], Counts]


def cut_by_hand(problem: CutProblem) -> Cutting:
    """The best of a few plans: longest piece first, or length after length filled up."""
    shortest_first = sorted(
        range(len(problem.lots)), key=lambda i: (problem.lots[i].is_reel, problem.lots[i].length)
    )
    longest_first = sorted(
        range(len(problem.lots)), key=lambda i: (problem.lots[i].is_reel, -problem.lots[i].length)
    )
    plans = [_fit_best(problem, order) for order in (shortest_first, longest_first)]
    for fill in (fill_greedily, fill_fully):
        plans += [_fill_lengths(problem, order, fill) for order in (shortest_first, longest_first)]
    return min(plans, key=lambda plan: cost_of(problem, plan))


def fill_greedily(problem: CutProblem, room: int, remaining: Sequence[int]) -> Counts:
    """As many as fit of the longest, then of the next."""
    counts = []
    for size, have in zip(problem.sizes, remaining, strict=True):
        n = min(have, room // (size + problem.kerf))
        counts.append(n)
        room -= n * (size + problem.kerf)
    return tuple(counts)


def fill_fully(problem: CutProblem, room: int, remaining: Sequence[int]) -> Counts:
    """The fullest load that fits, long pieces first; a good one where looking for it takes too long.

    Sums that can be reached are the bits of a whole number; the work grows with room times pieces.
    """
    needs = [size + problem.kerf for size in problem.sizes]
    if problem.load(remaining) <= room:
        return tuple(remaining)
    if room > MOST_ROOM:
        return fill_greedily(problem, room, remaining)
    mask = (1 << (room + 1)) - 1
    reached = [1]
    for need, have in zip(reversed(needs), reversed(remaining), strict=True):
        reached.append(_add_copies(reached[-1], need, min(have, room // need), mask))
    total = reached[-1].bit_length() - 1
    counts = []
    for i, (need, have) in enumerate(zip(needs, remaining, strict=True)):
        before = reached[len(needs) - 1 - i]
        n = next(n for n in range(min(have, total // need), -1, -1) if before >> (total - n * need) & 1)
        counts.append(n)
        total -= n * need
    return tuple(counts)


def _add_copies(reached: int, need: int, copies: int, mask: int) -> int:
    """Sums reachable with up to so many more pieces of one size, by doubling."""
    step = 1
    while copies > 0:
        n = min(step, copies)
        reached |= (reached << (n * need)) & mask
        copies -= n
        step *= 2
    return reached


def _fit_best(problem: CutProblem, order: Sequence[int]) -> Cutting:
    """Longest piece first, each where the least is left; the next length in ``order`` when none has room."""
    open_bins: list[tuple[int, list[int], list[int]]] = []
    unopened = [(lot, problem.lots[lot].count) for lot in order]
    for i, size in enumerate(problem.sizes):
        need = size + problem.kerf
        for _ in range(problem.demand[i]):
            fitting = [b for b in open_bins if b[2][0] >= need]
            if fitting:
                chosen = min(fitting, key=lambda b: b[2][0])
            else:
                fresh = _take_unopened(problem, unopened, size)
                if fresh is None:
                    continue
                chosen = (fresh, [0] * len(problem.sizes), [problem.lots[fresh].usable + problem.kerf])
                open_bins.append(chosen)
            chosen[1][i] += 1
            chosen[2][0] -= need
    return Cutting(tuple((lot, tuple(counts)) for lot, counts, _ in open_bins))


def _take_unopened(problem: CutProblem, unopened: list[tuple[int, int]], size: int) -> int | None:
    for k, (lot, count) in enumerate(unopened):
        if count and problem.lots[lot].usable >= size:
            unopened[k] = (lot, count - 1)
            return lot
    return None


def _fill_lengths(problem: CutProblem, order: Sequence[int], fill: _Fill) -> Cutting:
    """Length after length in ``order``, each filled from what is still wanted."""
    remaining = list(problem.demand)
    bins: list[tuple[int, Counts]] = []
    for lot in order:
        for _ in range(problem.lots[lot].count):
            counts = fill(problem, problem.lots[lot].usable + problem.kerf, remaining)
            if not any(counts):
                break
            bins.append((lot, counts))
            remaining = [have - n for have, n in zip(remaining, counts, strict=True)]
    return Cutting(tuple(bins))


def most_load(problem: CutProblem, lot: Lot) -> int:
    """No load of the lot's length is larger; reached wherever the length is not out of the ordinary."""
    room = lot.usable + problem.kerf
    if room > MOST_ROOM:
        return min(room, problem.load(problem.demand))
    return problem.load(fill_fully(problem, room, problem.demand))


def least_costs(problem: CutProblem, short_mm: int) -> tuple[int, int, int, int, int]:
    """Lower bounds of the aims for plans that leave at most ``short_mm`` unmade, from the fullest loads.

    A load contains a kerf at least, so no length yields more than its fullest load less one kerf.
    """
    made = [most_load(problem, lot) - problem.kerf for lot in problem.lots]
    lots = list(zip(problem.lots, made, strict=True))
    wanted = sum(size * n for size, n in zip(problem.sizes, problem.demand, strict=True))
    short = max(0, wanted - sum(lot.count * most for lot, most in lots))
    from_reels = wanted - short_mm - sum(lot.count * most for lot, most in lots if not lot.is_reel)
    reels, lacking = 0, from_reels
    for lot, most in sorted((p for p in lots if p[0].is_reel), key=lambda p: -p[1]):
        opened = min(lot.count, max(0, -(-lacking // most)))
        reels += opened
        lacking -= opened * most
    longest = max((lot.usable - problem.sizes[-1] for lot in problem.lots if not lot.is_reel), default=0)
    return short, reels, max(0, from_reels), least_waste(problem, short_mm, reels), -longest


def least_waste(problem: CutProblem, short_mm: int, reels: int) -> int:
    """A lower bound of the waste of plans that leave ``short_mm`` unmade and open so many reels, no more.

    Where no remainder can be long enough to keep, all that is taken and not made is waste.
    """
    made = sum(size * n for size, n in zip(problem.sizes, problem.demand, strict=True)) - short_mm
    of_reels = [lot for lot in problem.lots if lot.is_reel]
    most = reels * max((lot.usable for lot in of_reels), default=0)
    most += sum(lot.count * lot.usable for lot in problem.lots if not lot.is_reel)
    longest = max((lot.usable - problem.sizes[-1] for lot in problem.lots), default=0)
    if min(most - made, longest) >= problem.keep:
        return 0
    return max(0, reels * min((lot.length for lot in of_reels), default=0) - made)


def cut_from_one_reel(problem: CutProblem) -> Cutting | None:
    """The best plan when there are only reels and one of them holds everything; None otherwise."""
    if any(not lot.is_reel for lot in problem.lots):
        return None
    room_for_all = [
        Cutting(((number, problem.demand),))
        for number, lot in enumerate(problem.lots)
        if problem.load(problem.demand) <= lot.usable + problem.kerf
    ]
    return min(room_for_all, key=lambda plan: cost_of(problem, plan), default=None)
