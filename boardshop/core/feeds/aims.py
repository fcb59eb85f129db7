"""The aims of a choice of feeds, as expressions over its model, in the order in which they are sought."""

from collections import defaultdict
from collections.abc import Collection, Iterator
from itertools import combinations

from ortools.sat.python import cp_model

from boardshop.core.feeds.model import Expr, FeedsModel, Terms
from boardshop.core.feeds.sockets import Socket
from boardshop.core.index import fold
from boardshop.core.lexicographic import Aim, Reached, Search, minimize_in_turn
from boardshop.core.power.goals import JOINING
from boardshop.core.vocabulary import CIRCUITS


def count_best(model: FeedsModel, search: Search) -> list[Reached]:
    """The five aims that are counts; fewer, or none, where the work does not suffice.

    How many stay unfed is asked alone, because that is proved fast by itself and slowly with the others.
    """
    fed = search.minimize([aim_at_unfed(model)])
    if not fed:
        return []
    shared, others = [aim_at_digital_sharing(model), aim_at_sharing(model)], _list_further_counts(model)
    return fed + (search.minimize_at_zero(shared, others) or minimize_in_turn(search, [*shared, *others]))


def _list_further_counts(model: FeedsModel) -> list[Aim]:
    return [aim_at_headroom(model), aim_at_adapters(model)]


def list_balances(model: FeedsModel, *, is_shared: bool) -> list[Aim]:
    """``is_shared`` says whether any outlet is shared in the solutions that are left."""
    return [aim_at_largest(model), aim_at_changes(model), aim_at_squares(model, is_shared=is_shared)]


def list_tie_breaks(model: FeedsModel) -> list[Aim]:
    """Outlet and jack order, then settings near what the jacks are labelled for."""
    return [*(_aim_at_place(model, jack) for jack in range(len(model.problem.jacks))), _aim_at_nominal(model)]


def aim_at_unfed(model: FeedsModel) -> Aim:
    jacks = len(model.problem.jacks)
    return Aim(jacks - model.count(range(len(model.x))), jacks)


def aim_at_digital_sharing(model: FeedsModel) -> Aim:
    """Digital jacks whose return carries another jack."""
    return _aim_at_returns(model, ("digital",))


def aim_at_return_sharing(model: FeedsModel) -> Aim:
    """Jacks of any circuit whose return carries another: what ground loops run through."""
    return _aim_at_returns(model, (*CIRCUITS, None))


def _aim_at_returns(model: FeedsModel, circuits: Collection[str | None]) -> Aim:
    terms: Terms = []
    for sockets in model.list_returns():
        hung = [n for socket in sockets for n in socket.ways]
        pinned = [fed for socket in sockets for fed in socket.pinned]
        counted = [n for n in hung if model.fed(n).pedal.circuit in circuits]
        fixed = sum(fed.pedal.circuit in circuits for fed in pinned)
        jacks = {model.problem.ways[n].jack for n in hung}
        if (counted or fixed) and len(jacks) + len(pinned) > 1:
            terms += _count_sharing(model, hung, counted, len(pinned), fixed)
    return Aim(_sum(terms), _count_jacks(model))


def aim_at_sharing(model: FeedsModel) -> Aim:
    """Jacks on an outlet, or a joined pair, with another."""
    terms: Terms = []
    for socket, several in zip(model.sockets, model.several, strict=True):
        if several is None:
            terms += [len(socket.pinned)] if len(socket.pinned) > 1 else []
            continue
        count = model.model.new_int_var(0, len(socket.ways) + len(socket.pinned), "")
        # With several on it this is their number, else it is not above zero.
        model.model.add(count >= model.hung(socket) - 1 + several)
        terms.append(count)
    return Aim(_sum(terms), _count_jacks(model))


def aim_at_headroom(model: FeedsModel) -> Aim:
    """Outlets above headroom."""
    terms: Terms = []
    limit = model.problem.headroom * model.scale
    for socket in model.sockets:
        most = model.most_share(socket) * 100
        if socket.pinned_share * 100 > limit:
            terms.append(len(socket.outlets))
        elif most > limit:
            above = model.model.new_bool_var("")
            model.model.add(100 * model.load(socket) <= limit + (most - limit) * above)
            terms.append(len(socket.outlets) * above)
    return Aim(_sum(terms), len(model.problem.present.index.outlets))


def aim_at_adapters(model: FeedsModel) -> Aim:
    """Each jack's own; what joins two outlets counts once."""
    own = [sum(name not in JOINING for name in way.adapters) for way in model.problem.ways]
    joined: Terms = list(model.list_joined_in_use())
    most = sum(max((own[n] + 1 for n in ways), default=0) for ways in model.of_jack)
    return Aim(cp_model.LinearExpr.weighted_sum(model.x, own) + _sum(joined), most)


def aim_at_largest(model: FeedsModel) -> Aim:
    """The largest share of a limit."""
    most = max([model.scale, *(socket.pinned_share for socket in model.sockets)])
    largest = model.model.new_int_var(0, most, "")
    for socket in model.sockets:
        model.model.add(largest >= model.load(socket))
    return Aim(largest, most)


def aim_at_changes(model: FeedsModel) -> Aim:
    """Jacks fed otherwise than in the file, or not fed as there."""
    kept: Terms = []
    fed_now = {fold(fed.ref) for c in model.problem.present.connections for fed in c.jacks}
    for jack, ways in enumerate(model.of_jack):
        if fold(model.problem.jacks[jack].ref) in fed_now:
            kept.append(model.count(n for n in ways if model.problem.ways[n].is_present))
        else:
            kept.append(1 - model.count(ways))
    return Aim(len(model.problem.jacks) - _sum(kept), len(model.problem.jacks))


def aim_at_squares(model: FeedsModel, *, is_shared: bool) -> Aim:
    """The sum over all outlets of the square of the share."""
    terms: Terms = []
    for socket, several in zip(model.sockets, model.several, strict=True):
        times, fixed = len(socket.outlets), socket.pinned_share
        own = [model.shares[n] * (model.shares[n] + 2 * fixed) for n in socket.ways]
        chosen = [model.x[n] for n in socket.ways]
        terms.append(times * (cp_model.LinearExpr.weighted_sum(chosen, own) + fixed * fixed))
        if several is not None and is_shared:
            terms += [times * product for product in _list_products(model, socket)]
    most = sum(len(socket.outlets) * model.most_share(socket) ** 2 for socket in model.sockets)
    return Aim(_sum(terms), most)


def _aim_at_place(model: FeedsModel, jack: int) -> Aim:
    """How late in the order of outlets a jack stands, last of all where it is not fed."""
    place = {socket.outlets: number for number, socket in enumerate(model.sockets)}
    last = len(model.sockets)
    ways = model.of_jack[jack]
    sooner = [last - place[model.problem.ports[model.problem.ways[n].port].outlets] for n in ways]
    return Aim(last - cp_model.LinearExpr.weighted_sum([model.x[n] for n in ways], sooner), last)


def _aim_at_nominal(model: FeedsModel) -> Aim:
    """How far, mV, the chosen settings lie from what the jacks are labelled for."""
    away: list[int] = []
    for number, way in enumerate(model.problem.ways):
        nominal = model.fed(number).jack.nominal
        mv = model.problem.ports[way.port].mv
        away.append(0 if nominal is None else abs(mv - nominal))
    most = sum(max((away[n] for n in ways), default=0) for ways in model.of_jack)
    return Aim(cp_model.LinearExpr.weighted_sum(model.x, away), most)


def _count_sharing(
    model: FeedsModel, hung: list[int], counted: list[int], pinned: int, fixed: int
) -> Iterator[cp_model.LinearExprT]:
    several = model.model.new_bool_var("")
    model.model.add(model.count(hung) + pinned <= 1 + (len(hung) + pinned) * several)
    yield fixed * several
    by_jack: dict[int, list[int]] = defaultdict(list)
    for n in counted:
        by_jack[model.problem.ways[n].jack].append(n)
    for ways in by_jack.values():
        counts = model.model.new_bool_var("")
        model.model.add(counts >= model.count(ways) + several - 1)
        yield counts


def _list_products(model: FeedsModel, socket: Socket) -> Iterator[Expr]:
    """Twice the product of each two shares on one outlet, for the square of their sum."""
    most = model.most_share(socket)
    for one, other in combinations(socket.ways, 2):
        ways = model.problem.ways[one], model.problem.ways[other]
        shares = model.shares[one], model.shares[other]
        apart = ways[0].jack == ways[1].jack or ways[0].port != ways[1].port
        if apart or not all(shares) or sum(shares) + socket.pinned_share > most:
            continue
        both = model.model.new_bool_var("")
        model.model.add(both >= model.x[one] + model.x[other] - 1)
        yield 2 * shares[0] * shares[1] * both


def _count_jacks(model: FeedsModel) -> int:
    return len(model.problem.jacks) + sum(len(socket.pinned) for socket in model.sockets)


def _sum(terms: Terms) -> Expr:
    return cp_model.LinearExpr.sum(terms) + 0
