"""Making room for one more pedal: as few of the others move as can be, and as little."""

from dataclasses import replace

from boardshop.core.index import fold, index_plan
from boardshop.core.naming import called
from boardshop.core.placing.answers import USUAL_WISHES, Placing, Watch, Wishes
from boardshop.core.placing.bounds import score_bound
from boardshop.core.placing.problem import Home, Problem, make_problem
from boardshop.core.placing.proposal import NOT_FOUND, make_writer, propose_layout
from boardshop.core.placing.score import score_places
from boardshop.core.placing.strategy import Strategy
from boardshop.core.plan import BoardPlan

LEAVING = 3_000
PER_MM = 8
CABLE = 1
"""What it costs that a pedal moves at all, each mm of its way, and each mm of cable.

So that one pedal less on the move outweighs any cable on a board that a person can carry.
"""


def make_room(
    plan: BoardPlan, ref: str, wishes: Wishes = USUAL_WISHES, watch: Watch | None = None
) -> Placing:
    """A placing with the pedal ``ref`` on the board: fewest others moved, then the least way, then the score.

    Others that have no place stay without one; all that stand may move but those pinned or asked to stay,
    and none is taken off, however it stands.
    ``left_out`` names ``ref`` where no room was found.  KeyError for a ref that the plan does not have.
    """
    wanted = index_plan(plan).pedals[fold(ref)].ref
    pinned = tuple(pedal.ref for pedal in plan.pedals if pedal.pinned and pedal.ref != wanted)
    wishes = replace(wishes, staying=(*wishes.staying, *pinned))
    there = tuple(
        replace(pedal, pinned=False)
        for pedal in plan.pedals
        if pedal.place is not None or pedal.ref == wanted
    )
    board = replace(plan, pedals=there)
    others = tuple(pedal.ref for pedal in there if pedal.ref != wanted)
    alone = propose_layout(board, replace(wishes, staying=others), watch)
    if wanted in alone.left_out:
        staying = tuple(one for one in wishes.staying if fold(one) != fold(ref))
        alone = _move_others(board, wanted, replace(wishes, staying=staying), watch)
    unplaced = {pedal.ref for pedal in plan.pedals} - {pedal.ref for pedal in there}
    left_out = {*alone.left_out, *unplaced}
    return replace(alone, left_out=tuple(p.ref for p in plan.pedals if p.ref in left_out), optimal=False)


def _move_others(board: BoardPlan, ref: str, wishes: Wishes, watch: Watch | None) -> Placing:
    homes = {
        pedal.ref: Home(pedal.place, LEAVING, PER_MM)
        for pedal in board.pedals
        if pedal.place is not None and pedal.ref != ref
    }
    writer = make_writer(board, wishes)

    def make(dropped: tuple[int, ...]) -> Problem:
        del dropped
        return make_problem(writer.able, wishes, homes=homes, cable_weight=CABLE)

    show = writer.shown_to(watch)
    strategy = Strategy(make, wishes.seconds, wishes.seed, show, may_drop=False, may_prove=False)
    outcome = strategy.run()
    if writer.barred or not outcome.found:
        return _as_it_is(board, ref, writer.impossible[0].sentence if writer.impossible else "")
    placing = writer.write_all(outcome, 1)[0]
    return replace(placing, bound=min(placing.score, score_bound(make_problem(board, wishes))))


def _as_it_is(board: BoardPlan, ref: str, why: str) -> Placing:
    places = {
        pedal.ref: pedal.place for pedal in board.pedals if pedal.place is not None and pedal.ref != ref
    }
    score, cable = score_places(board, {fold(one): place for one, place in places.items()})
    name = called(index_plan(board), ref)
    reason = f"impossible: {why}" if why else f"{NOT_FOUND}: room for {name} by moving the others."
    return Placing(tuple(places.items()), (ref,), reason, score, cable, False, 0)
