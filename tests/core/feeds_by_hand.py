"""The best feeds found without a solver: every choice is tried, and scored by its own arithmetic.

What is wrong comes from the report's own judgement, so that the two can never disagree.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations, product

from boardshop.core.plan import BoardPlan, Feed
from boardshop.core.power import is_wrongly_fed, make_feeding
from boardshop.core.power.choices import judge_connection
from boardshop.core.screens import number_joined_units

JOINING_RULES = ("P15", "P16", "P17", "P18")
ADAPTERS = ((), ("reverser",), ("converter",), ("reverser", "converter"))


def find_best_score(plan: BoardPlan) -> tuple[object, ...]:
    """The eight aims of the best of all choices."""
    jacks = [f"{pedal.ref}.{jack.name}" for pedal in plan.pedals for jack in pedal.power]
    options = [[None, *_list_right_feeds(plan, end)] for end in jacks]
    scores = []
    for choice in product(*options):
        feeds = [feed for feed in choice if feed is not None]
        if _has_one_setting_each(feeds) and _is_right(plan, _chain_pairs(feeds)):
            scores.append(score_by_hand(plan, _chain_pairs(feeds), jacks))
    return min(scores)


def score_by_hand(plan: BoardPlan, feeds: Sequence[Feed], jacks: Sequence[str]) -> tuple[object, ...]:
    circuit = {f"{p.ref}.{j.name}": p.circuit for p in plan.pedals for j in p.power}
    limits = {
        (f"{s.ref}.{o.name}", setting.min_mv): setting.max_ma
        for s in plan.supplies
        for o in s.outlets
        for setting in o.settings
    }
    fed = {end: feed for feed in feeds for end in feed.jacks}
    returns = {end: _return_of(plan, feed) for end, feed in fed.items()}
    percents = _list_percents(plan, feeds, limits)
    before = {end: feed for feed in plan.feeds for end in feed.jacks}
    return (
        sum(end not in fed for end in jacks),
        sum(circuit[end] == "digital" and _is_shared(returns, end) for end in fed),
        sum(_is_shared({e: f.outlets for e, f in fed.items()}, end) for end in fed),
        sum(percent > 100 - plan.rules.headroom_percent for percent in percents),
        sum(_count_adapters(feed) for feed in feeds),
        max(percents, default=Fraction(0)),
        sum(_plug_of(before.get(end)) != _plug_of(fed.get(end)) for end in jacks),
        sum((percent**2 for percent in percents), Fraction(0)),
    )


def _list_right_feeds(plan: BoardPlan, end: str) -> Iterator[Feed]:
    """What is right for this jack alone on an otherwise empty board."""
    ports = [
        (f"{s.ref}.{o.name}", setting.min_mv)
        for s in plan.supplies
        for o in s.outlets
        for setting in o.settings
    ]
    singles = [((ref,), (mv,), ()) for ref, mv in ports]
    pairs = [
        ((one, other), (mv, too), (joining,))
        for (one, mv), (other, too) in combinations(ports, 2)
        for joining in ("parallel", "series")
        if one != other
    ]
    for outlets, settings, joining in (*singles, *pairs):
        for adapters in ADAPTERS:
            feed = Feed(outlets, (end,), settings, (*joining, *adapters))
            if _is_right(plan, [feed]):
                yield feed
                break


def _is_right(plan: BoardPlan, feeds: Sequence[Feed]) -> bool:
    """Nothing wrong, nothing unknown but the converter, which must be metered anyhow, and joining allowed."""
    feeding = make_feeding(plan, feeds)
    units = number_joined_units(plan)
    for connection in feeding.connections:
        found = judge_connection(feeding, connection, units)
        if any(is_wrongly_fed(feeding, connection, fed) for fed in connection.jacks):
            return False
        if any(f.severity == "unknown" and f.rule != "P26" for f in found):
            return False
        if any(f.rule in JOINING_RULES and f.severity in ("damage", "fault") for f in found):
            return False
    return True


def _has_one_setting_each(feeds: Sequence[Feed]) -> bool:
    settings: dict[str, int] = {}
    pairs: dict[str, tuple[str, ...]] = {}
    for feed in feeds:
        for outlet, mv in zip(feed.outlets, feed.settings, strict=True):
            if (
                settings.setdefault(outlet, mv) != mv
                or pairs.setdefault(outlet, feed.outlets) != feed.outlets
            ):
                return False
    return True


def _chain_pairs(feeds: Sequence[Feed]) -> list[Feed]:
    """Several jacks on one joined pair hang on one lead."""
    chained: dict[object, Feed] = {}
    for feed in feeds:
        key = replace(feed, jacks=()) if len(feed.outlets) > 1 else feed
        if key in chained:
            feed = replace(feed, jacks=(*chained[key].jacks, *feed.jacks))
        chained[key] = feed
    return list(chained.values())


def _list_percents(plan, feeds, limits) -> list[Fraction]:
    load = {
        f"{p.ref}.{j.name}": j.measured if j.measured is not None else j.rated
        for p in plan.pedals
        for j in p.power
    }
    percents = []
    for outlet in (f"{s.ref}.{o.name}" for s in plan.supplies for o in s.outlets):
        here = [feed for feed in feeds if outlet in feed.outlets]
        total, limit = Fraction(0), None
        for feed in here:
            part = Fraction(1, 2) if "parallel" in feed.adapters else Fraction(1)
            total += part * sum(load[end] for end in feed.jacks)
            limit = min(limits[pair] for pair in zip(feed.outlets, feed.settings, strict=True))
        percents.append(total * 100 / limit if here else Fraction(0))
    return percents


def _return_of(plan, feed) -> object:
    groups = {f"{s.ref}.{o.name}": o.group and f"{s.ref}/{o.group}" for s in plan.supplies for o in s.outlets}
    return tuple(groups[outlet] or outlet for outlet in feed.outlets)


def _is_shared(places, end) -> bool:
    return list(places.values()).count(places[end]) > 1


def _count_adapters(feed: Feed) -> int:
    joining = len({"parallel", "series"} & set(feed.adapters))
    return joining + (len(feed.adapters) - joining) * len(feed.jacks)


def _plug_of(feed) -> object:
    if feed is None:
        return None
    return sorted(zip(feed.outlets, feed.settings, strict=True)), sorted(feed.adapters)
