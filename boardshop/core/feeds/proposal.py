"""Proposed feeds: the best choice there is, proved where the work allows, as feeds of the plan."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache, partial

from boardshop.core.boardfile import dump_feed
from boardshop.core.feeds.aims import count_best, list_balances, list_tie_breaks
from boardshop.core.feeds.model import FeedsModel
from boardshop.core.feeds.problem import FeedsProblem, Way, find_lead_along, make_problem
from boardshop.core.feeds.score import Score, score_feeds
from boardshop.core.index import fold
from boardshop.core.lexicographic import MOST_TOGETHER, Reached, Search, minimize_in_turn
from boardshop.core.plan import BoardPlan, Feed
from boardshop.core.power.connections import Connection
from boardshop.core.printing import UNPRINTED, Json, as_json, round_percent, round_whole

WORK = 4.0
"""The solver's deterministic seconds for one proposal."""

SHARING = 2  # position among the aims
LARGEST = 5
SQUARES = 7


@dataclass(frozen=True, slots=True)
class Proposal:
    """``score`` and ``bound`` list the fields of `Score`; no choice is better than ``bound``."""

    feeds: tuple[Feed, ...]
    unfed: tuple[str, ...]
    score: tuple[Json, ...]
    optimal: bool
    bound: tuple[Json, ...]
    exact: Score = field(metadata=UNPRINTED)
    jacks: tuple[str, ...] = field(metadata=UNPRINTED)
    """All that were to be fed, pinned ones included."""


@lru_cache(maxsize=16)
def propose_feeds(plan: BoardPlan, work: float = WORK) -> Proposal:
    """The lexicographic optimum over all feeds that are not wrong; pinned feeds stay as they are.

    A jack that cannot be fed rightly is left unfed.  ``optimal`` says whether every aim is proved.
    """
    problem = make_problem(plan)
    chosen, reached, is_done = _solve(problem, work)
    feeds = _write_feeds(problem, chosen)
    fed = {fold(end) for feed in feeds for end in feed.jacks}
    jacks = tuple(one.ref for one in problem.jacks) + tuple(
        one.ref for c in problem.pinned for one in c.jacks
    )
    score = score_feeds(plan, feeds, jacks)
    return Proposal(
        feeds=feeds,
        unfed=tuple(end for end in jacks if fold(end) not in fed),
        score=tuple(score.printed()),
        optimal=is_done and problem.is_whole,
        bound=tuple(_print_bound(score, reached, problem)),
        exact=score,
        jacks=jacks,
    )


def print_proposal(plan: BoardPlan) -> Json:
    """The proposal as the command line prints it, its feeds as in a board file."""
    proposal = propose_feeds(plan)
    printed = as_json(replace(proposal, feeds=()))
    assert isinstance(printed, dict)
    return printed | {"feeds": [dump_feed(feed) for feed in proposal.feeds]}


def _solve(problem: FeedsProblem, work: float) -> tuple[list[Way], list[Reached], bool]:
    """The chosen ways, what was reached of each aim, and whether all was proved."""
    model = FeedsModel(problem)
    search = Search(model.model, model.x, work)
    reached = count_best(model, search)
    is_done = len(reached) > SHARING
    # The later aims are made when sharing is settled: without it they need no products of loads.
    is_shared = is_done and reached[SHARING].value > 0
    for make, largest in ((partial(list_balances, is_shared=is_shared), 1), (list_tie_breaks, MOST_TOGETHER)):
        aims = make(model)
        found = minimize_in_turn(search, aims, largest) if is_done else []
        reached += found
        is_done = len(found) == len(aims)
    is_done = is_done and all(one.is_least for one in reached)
    chosen = [way for way, value in zip(problem.ways, search.values, strict=False) if value]
    return chosen, reached, is_done


def _write_feeds(problem: FeedsProblem, chosen: Sequence[Way]) -> tuple[Feed, ...]:
    """Feeds of the file that stay as they are, then new ones in the order of outlets and jacks."""
    kept = {fold(problem.jacks[way.jack].ref) for way in chosen if way.is_present}
    pinned = {fold(fed.ref) for c in problem.pinned for fed in c.jacks}
    whole = [feed for feed in problem.plan.feeds if feed.outlets and feed.jacks]
    feeds: list[Feed] = []
    for feed, connection in zip(whole, problem.present.connections, strict=True):
        left = tuple(end for end in feed.jacks if fold(end) in kept or fold(end) in pinned)
        if left:
            lead = feed.lead if left == feed.jacks else None
            settings = tuple(tap.setting_mv for tap in connection.taps)
            feeds.append(replace(feed, jacks=left, settings=settings, lead=lead))
    place = {ref: number for number, ref in enumerate(problem.present.index.outlets)}
    new = [way for way in chosen if not way.is_present]
    new.sort(key=lambda way: ([place[ref] for ref in problem.ports[way.port].outlets], way.jack))
    return (*feeds, *_join_pairs([_feed_of(problem, way) for way in new]))


def _feed_of(problem: FeedsProblem, way: Way) -> Feed:
    fed, port = problem.jacks[way.jack], problem.ports[way.port]
    return Feed(
        outlets=tuple(tap.ref for tap in port.taps),
        jacks=(fed.ref,),
        settings=tuple(tap.setting_mv for tap in port.taps),
        adapters=way.adapters,
        lead=find_lead_along(_connection_of(problem, fed.ref), port),
    )


def _connection_of(problem: FeedsProblem, end: str) -> Connection | None:
    connections = problem.present.connections
    return next((c for c in connections if any(fold(one.ref) == fold(end) for one in c.jacks)), None)


def _join_pairs(feeds: Sequence[Feed]) -> list[Feed]:
    """Several jacks on one pair of joined outlets hang on one lead, so that the pair is joined once."""
    found: list[Feed] = []
    for feed in feeds:
        last = found[-1] if found else None
        if last and len(feed.outlets) > 1 and replace(last, jacks=(), lead=None) == replace(feed, jacks=()):
            found[-1] = replace(last, jacks=(*last.jacks, *feed.jacks), lead=None)
        else:
            found.append(feed)
    return found


def _print_bound(score: Score, reached: Sequence[Reached], problem: FeedsProblem) -> list[Json]:
    """What is proved of each aim, given what was reached of those before; None where nothing is."""
    printed: list[Json] = list(score.printed())
    for number in range(len(printed)):
        if number < len(reached) and reached[number].is_least and problem.is_whole:
            continue
        scale = FeedsModel(problem).scale
        least = reached[number].bound if number < len(reached) and problem.is_whole else 0
        if number == LARGEST:
            printed[number] = round_percent(least * 100 / scale)
        elif number == SQUARES:
            printed[number] = round_whole(least * 10_000 / scale**2)
        else:
            printed[number] = least
        return [*printed[: number + 1], *(None for _ in printed[number + 1 :])]
    return printed
