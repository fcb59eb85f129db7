"""Which supply: the few that suit a board best, alone, in pairs, or beside what is there."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations_with_replacement

from boardshop.core.feeds.aims import aim_at_changes, aim_at_largest, aim_at_return_sharing, count_best
from boardshop.core.feeds.model import FeedsModel
from boardshop.core.feeds.problem import Way, make_problem
from boardshop.core.feeds.room import do_fit_under
from boardshop.core.index import fold, index_plan
from boardshop.core.lexicographic import Search
from boardshop.core.plan import BoardPlan, Supply, Venue
from boardshop.core.power.mains import judge_mains
from boardshop.core.printing import round_percent

WORK = 0.5
"""The solver's deterministic seconds for one candidate."""

BEST = 5
PAIRED = 4
"""So many are shown; pairs are made of so many of the best single ones."""

COUNTED = 5
"""So many of the aims are counts: unfed, digital sharing, sharing, above headroom, adapters."""

RIGHT, UNKNOWN, WRONG = 0, 1, 2


@dataclass(frozen=True, slots=True)
class SupplyChoice:
    """One supply or two; amounts are None where one is not recorded."""

    models: tuple[int, ...]
    """Their numbers in the catalogue that was given."""
    unfed: tuple[str, ...]
    digital_sharing: int
    sharing: int
    return_sharing: int
    """Jacks of any circuit on a return with another: a way for ground loops."""
    above_headroom: int
    adapters: int
    largest_percent: float | None
    """Of the best choice of feeds with these supplies; None where the work did not suffice."""
    fits_under: bool | None
    takes_mains: bool | None
    """All that were asked for; None where none was, or one cannot be told."""
    mains_says: tuple[str, ...]
    """What speaks against it, or is not recorded, of the mains."""
    weight: int | None
    """g, together."""
    price: float | None
    free: tuple[str, ...]
    """Outlets of these supplies that nothing is put on, as `1` or, of a second supply, `2: 1`."""


@dataclass(frozen=True, slots=True)
class _Candidate:
    """``counts`` are the first five aims at their least, ``return_sharing`` follows; ``search`` has more."""

    models: tuple[int, ...]
    supplies: tuple[Supply, ...]
    counts: tuple[int, ...]
    return_sharing: int
    model: FeedsModel
    search: Search

    def list_chosen(self) -> list[Way]:
        ways = self.model.problem.ways
        return [way for way, value in zip(ways, self.search.values, strict=False) if value]


def choose_instead(
    plan: BoardPlan, catalogue: Sequence[Supply], mains: Sequence[Venue] = (), best: int = BEST
) -> tuple[SupplyChoice, ...]:
    """In place of all that is on the board: single supplies, and pairs where they feed better than those."""
    bare = replace(plan, supplies=(), feeds=())
    singles = [_try(bare, catalogue, (number,)) for number in range(len(catalogue))]
    ranked = sorted(singles, key=lambda one: _rank(plan, one, mains))
    pairs: list[_Candidate] = []
    if ranked and (any(ranked[0].counts) or ranked[0].return_sharing):
        some = sorted(one.models[0] for one in ranked[:PAIRED])
        tried = (_try(bare, catalogue, pair) for pair in combinations_with_replacement(some, 2))
        pairs = [one for one in tried if _rank_feeding(one) < _rank_feeding(ranked[0])]
    return _describe_best(plan, [*singles, *pairs], mains, best)


def choose_beside(
    plan: BoardPlan, catalogue: Sequence[Supply], mains: Sequence[Venue] = (), best: int = BEST
) -> tuple[SupplyChoice, ...]:
    """One more supply beside those of the board; the feeds that are pinned stay."""
    found = [_try(plan, catalogue, (number,)) for number in range(len(catalogue))]
    return _describe_best(plan, found, mains, best)


def _try(plan: BoardPlan, catalogue: Sequence[Supply], models: tuple[int, ...]) -> _Candidate:
    refs = _free_refs(plan, len(models))
    supplies = tuple(
        replace(catalogue[number], ref=ref, place=None) for number, ref in zip(models, refs, strict=True)
    )
    model = FeedsModel(make_problem(replace(plan, supplies=(*plan.supplies, *supplies))))
    search = Search(model.model, model.x, WORK)
    counts = tuple(one.value for one in count_best(model, search))
    shared = search.minimize([aim_at_return_sharing(model)]) if len(counts) == COUNTED else []
    worst = len(model.problem.jacks)
    return _Candidate(
        models,
        supplies,
        counts if shared else (worst,) * COUNTED,
        shared[0].value if shared else worst,
        model,
        search,
    )


def _free_refs(plan: BoardPlan, count: int) -> list[str]:
    index = index_plan(plan)
    taken = {*index.supplies, *index.signal_parts}
    numbers = range(1, len(taken) + count + 1)
    return [ref for n in numbers if fold(ref := f"S{n}") not in taken][:count]


def _rank(plan: BoardPlan, one: _Candidate, mains: Sequence[Venue]) -> tuple[object, ...]:
    """Fed, isolated, with headroom; then room, mains, weight, price, and the catalogue's own order."""
    weight, price = _add_up(one.supplies)
    return (
        _rank_feeding(one),
        _grade(do_fit_under(plan, one.supplies)),
        _grade(_takes_mains(one.supplies, mains)[0]) if mains else RIGHT,
        weight is None,
        weight or 0,
        price is None,
        price or 0.0,
        len(one.models),
        one.models,
    )


def _rank_feeding(one: _Candidate) -> tuple[int, ...]:
    unfed, digital_sharing, sharing, above, adapters = one.counts
    return unfed, digital_sharing, sharing, one.return_sharing, above, adapters


def _describe_best(
    plan: BoardPlan, found: Iterable[_Candidate], mains: Sequence[Venue], best: int
) -> tuple[SupplyChoice, ...]:
    ranked = sorted(found, key=lambda one: _rank(plan, one, mains))
    return tuple(_describe(plan, one, mains) for one in ranked[:best])


def _describe(plan: BoardPlan, one: _Candidate, mains: Sequence[Venue]) -> SupplyChoice:
    largest = one.search.minimize([aim_at_largest(one.model)])
    if plan.feeds and largest:
        # What stays plugged where it is leaves the new outlets free.
        one.search.minimize([aim_at_changes(one.model)])
    problem, chosen = one.model.problem, one.list_chosen()
    fed = {way.jack for way in chosen}
    _, digital_sharing, sharing, above, adapters = one.counts
    takes_mains, mains_says = _takes_mains(one.supplies, mains)
    weight, price = _add_up(one.supplies)
    return SupplyChoice(
        models=one.models,
        unfed=tuple(fed_.ref for number, fed_ in enumerate(problem.jacks) if number not in fed),
        digital_sharing=digital_sharing,
        sharing=sharing,
        return_sharing=one.return_sharing,
        above_headroom=above,
        adapters=adapters,
        largest_percent=round_percent(largest[0].value * 100 / one.model.scale) if largest else None,
        fits_under=do_fit_under(plan, one.supplies),
        takes_mains=takes_mains,
        mains_says=mains_says,
        weight=weight,
        price=price,
        free=_list_free(one.supplies, {ref for way in chosen for ref in problem.ports[way.port].outlets}),
    )


def _list_free(supplies: Sequence[Supply], used: Collection[str]) -> tuple[str, ...]:
    return tuple(
        outlet.name if len(supplies) == 1 else f"{number}: {outlet.name}"
        for number, supply in enumerate(supplies, start=1)
        for outlet in supply.outlets
        if fold(f"{supply.ref}.{outlet.name}") not in used
    )


def _takes_mains(supplies: Sequence[Supply], mains: Sequence[Venue]) -> tuple[bool | None, tuple[str, ...]]:
    named = [replace(supply, ref=supply.model or supply.ref) for supply in supplies]
    found = [one for supply in named for venue in mains for one in judge_mains(supply, venue)]
    says = tuple(dict.fromkeys(one.message for one in found))
    if any(one.severity != "unknown" for one in found):
        return False, says
    return (None if found or not mains else True), says


def _grade(answer: bool | None) -> int:
    grades: Mapping[bool | None, int] = {True: RIGHT, None: UNKNOWN, False: WRONG}
    return grades[answer]


def _add_up(supplies: Sequence[Supply]) -> tuple[int | None, float | None]:
    """Weight and price together; None where one of them is not recorded."""
    weights = [supply.weight for supply in supplies]
    prices = [supply.price for supply in supplies]
    known_weights = [weight for weight in weights if weight is not None]
    known_prices = [price for price in prices if price is not None]
    return (
        sum(known_weights) if len(known_weights) == len(weights) else None,
        round(sum(known_prices), 2) if len(known_prices) == len(prices) else None,
    )
