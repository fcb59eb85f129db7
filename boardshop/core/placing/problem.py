"""The plan as arrays for the compiled search, and its places back as places of the plan."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from boardshop.core.cables.ends import entry_point, exit_point
from boardshop.core.index import fold, split_end
from boardshop.core.layout.foot_checks import list_pairs
from boardshop.core.layout.rules import SAME_HEIGHT_MM, TOGETHER_DEPTH_MM
from boardshop.core.placing.answers import USUAL_WISHES, Wishes
from boardshop.core.placing.arrays import (
    ALONE,
    BODY,
    FAR,
    KEEPOUT,
    PLUG,
    ROOM,
    STRIP,
    UNIT,
    Ints,
    Model,
    State,
)
from boardshop.core.placing.depths import LARGEST_MM
from boardshop.core.placing.things import Shape, Thing, list_ends, list_things
from boardshop.core.plan import BoardPlan, Place, Point, Rules, Turn

CABLE_WEIGHT = 4
"""Board-file format: the score counts a millimetre of cable four times."""
NO_CONFLICT = -(10**7)
"""A gap at which two parts never meet."""


@dataclass(frozen=True)
class Home:
    """What it costs a pedal to leave its place at all, and for each mm."""

    place: Place
    leaving: int
    per_mm: int


@dataclass(frozen=True)
class Problem:
    """``things`` in the arrays' order, of which the first ``movable`` may move."""

    plan: BoardPlan
    things: tuple[Thing, ...]
    movable: int
    model: Model

    @property
    def pedals(self) -> tuple[int, ...]:
        return tuple(i for i, thing in enumerate(self.things) if thing.ref)

    def start(self) -> State:
        """A state with every fixed thing at its place, and nothing else settled."""
        count, parts = len(self.things), self.model.parts.shape[2]
        weights = np.full((count, count), UNIT, np.int64)
        weights[self.movable :, self.movable :] = 0
        place = np.zeros((count, 3), np.int64)
        for i, thing in enumerate(self.things):
            if thing.at is not None:
                place[i] = thing.at.x, thing.at.y, thing.at.turn // 90
        return State(
            place=place,
            outline=np.zeros((count, 4), np.int64),
            standing=np.zeros((count, parts, 4), np.int64),
            feet=np.zeros((count, self.model.switches.shape[2], 2), np.int64),
            overlap=np.zeros((count, count), np.int64),
            trouble=np.zeros(count, np.int64),
            weights=weights,
            sums=np.zeros(2, np.int64),
            rows=np.zeros((2, count), np.int64),
            random=np.ones(1, np.uint64),
            best=np.zeros((count, 3), np.int64),
            best_cost=np.full(1, FAR, np.int64),
        )

    def read_place(self, row: Sequence[int] | Ints) -> Place:
        return Place(int(row[0]), int(row[1]), _turn(int(row[2])))


def make_problem(
    plan: BoardPlan,
    wishes: Wishes = USUAL_WISHES,
    *,
    homes: Mapping[str, Home] | None = None,
    cable_weight: int = CABLE_WEIGHT,
) -> Problem:
    """Arrays for all pedals of the plan; ``homes`` (by ref) make it cost to leave a place."""
    things = tuple(list_things(plan, wishes))
    movable = sum(thing.at is None for thing in things)
    return Problem(plan, things, movable, _fill(plan, things, homes or {}, cable_weight))


def _fill(plan: BoardPlan, things: tuple[Thing, ...], homes: Mapping[str, Home], cable_weight: int) -> Model:
    count = max(1, len(things))
    shapes = [shape for thing in things for shape in thing.shapes]
    nets = _list_nets(plan, things)
    model = Model(
        parts=np.zeros((count, 4, max([1, *(len(s.parts) for s in shapes)]), 6), np.int64),
        counts=np.zeros((count, 4), np.int64),
        turns=np.zeros((count, 4), np.int64),
        reach=np.zeros((count, 4, 9), np.int64),
        allowed_y=np.zeros((count, 4, min(plan.frame.depth, LARGEST_MM) + 1), np.bool_),
        switches=np.zeros((count, 4, max([1, *(len(s.switches) for s in shapes)]), 2), np.int64),
        ends=np.zeros((count, 4, max([1, *(len(s.ends) for s in shapes)]), 2), np.int64),
        nets=np.zeros((count, max([1, *(len(own) for own in nets)]), 4), np.int64),
        use=np.array([thing.use for thing in things] or [0], np.int64),
        gaps=list_gaps(plan.rules),
        pairs=_list_pairs(plan, things, count),
        rules=_list_rules(plan.rules, cable_weight),
        home=np.zeros((count, 5), np.int64),
    )
    for i, thing in enumerate(things):
        model.counts[i, 2:] = len(nets[i]), len(thing.shapes)
        model.turns[i, : len(thing.shapes)] = [shape.turn // 90 for shape in thing.shapes]
        for shape in thing.shapes:
            _fill_shape(model, i, shape)
        if nets[i]:
            model.nets[i, : len(nets[i])] = nets[i]
        home = homes.get(thing.ref)
        if home is not None and thing.ref:
            spot = home.place
            model.home[i] = spot.x, spot.y, spot.turn // 90, home.leaving, home.per_mm
    return model


def _fill_shape(model: Model, i: int, shape: Shape) -> None:
    turn = shape.turn // 90
    model.counts[i, :2] = len(shape.parts), len(shape.switches)
    # Every turn holds the parts' sorts and heights, as they are read without knowing the turn.
    for k, part in enumerate(shape.parts):
        box = part.box
        model.parts[i, :, k, 4:] = part.sort, -1 if part.height is None else part.height
        model.parts[i, turn, k, :4] = box.x0, box.y0, box.x1, box.y1
    boxes = [part.box for part in shape.parts]
    ys = shape.ys or [1, 0]
    model.reach[i, turn] = (
        min(box.x0 for box in boxes),
        min(box.y0 for box in boxes),
        max(box.x1 for box in boxes),
        max(box.y1 for box in boxes),
        shape.low_x,
        shape.high_x,
        ys[0],
        ys[-1],
        min((point.y for point in shape.switches), default=0),
    )
    model.allowed_y[i, turn, : len(shape.depths)] = shape.depths
    for k, point in enumerate(shape.switches):
        model.switches[i, turn, k] = point.x, point.y
    for k, point in enumerate(shape.ends):
        model.ends[i, turn, k] = point.x, point.y


def list_gaps(rules: Rules) -> Ints:
    """Least clearance between sorts of parts; at 0 they may touch."""
    gaps = np.zeros((5, 5), np.int64)
    for one, other, gap in (
        (BODY, BODY, rules.gap_mm),
        (BODY, PLUG, rules.plug_gap_mm),
        (PLUG, PLUG, rules.plug_gap_mm),
        (PLUG, KEEPOUT, rules.plug_gap_mm),
        (BODY, ROOM, rules.gap_mm),
        (PLUG, ROOM, rules.plug_gap_mm),
        (ROOM, ROOM, rules.gap_mm),
        (STRIP, STRIP, NO_CONFLICT),
        (KEEPOUT, KEEPOUT, NO_CONFLICT),
    ):
        gaps[one, other] = gaps[other, one] = gap
    return gaps


def _list_rules(rules: Rules, cable_weight: int) -> Ints:
    apart = max(rules.switch_gap_mm, rules.switch_min_mm)
    least, most = rules.together_mm
    widest = int(list_gaps(rules).max())
    return np.array([apart, least, most, TOGETHER_DEPTH_MM, cable_weight, SAME_HEIGHT_MM, widest], np.int64)


def _list_pairs(
    plan: BoardPlan, things: Sequence[Thing], count: int
) -> np.ndarray[tuple[int, ...], np.dtype[np.bool_]]:
    pairs = np.zeros((count, count), np.bool_)
    number = _numbers(things)
    for one, other in list_pairs(plan):
        a, b = number[fold(one.ref)], number[fold(other.ref)]
        pairs[a, b] = pairs[b, a] = True
    return pairs


def _list_nets(plan: BoardPlan, things: Sequence[Thing]) -> list[list[tuple[int, int, int, int]]]:
    """By thing: its nets, a link between two pedals in both; a lead goes to where it arrives or leaves."""
    number = _numbers(things)
    places = {ref: {n: k for k, n in enumerate(_link_numbers(plan, ref))} for ref in list_ends(plan)}
    nets: list[list[tuple[int, int, int, int]]] = [[] for _ in things]
    for n, link in enumerate(plan.links):
        own = [fold(split_end(end)[0]) for end in (link.source, link.target)]
        marks = [places[ref][2 * n + k] if ref in number else 0 for k, ref in enumerate(own)]
        for k in (0, 1):
            if own[k] not in number:
                continue
            if own[1 - k] in number:
                row = marks[k], number[own[1 - k]], marks[1 - k], 0
            else:
                point = lead_point(plan, own[1 - k])
                if point is None:
                    continue
                row = marks[k], ALONE, point.x, point.y
            nets[number[own[k]]].append(row)
    return nets


def _link_numbers(plan: BoardPlan, ref: str) -> list[int]:
    """Twice the number of each link that ends at the pedal, plus 1 at its target: the order of its ends."""
    found = []
    for n, link in enumerate(plan.links):
        found += [
            2 * n + k for k, end in enumerate((link.source, link.target)) if fold(split_end(end)[0]) == ref
        ]
    return found


def lead_point(plan: BoardPlan, ref: str) -> Point | None:
    """Where the lead of a source arrives or of an amp leaves; None for what is neither."""
    if any(fold(source.ref) == ref for source in plan.sources):
        return entry_point(plan.frame)
    if any(fold(amp.ref) == ref for amp in plan.amps):
        return exit_point(plan.frame)
    return None


def _numbers(things: Sequence[Thing]) -> dict[str, int]:
    return {fold(thing.ref): i for i, thing in enumerate(things) if thing.ref}


def _turn(quarters: int) -> Turn:
    turns: tuple[Turn, ...] = (0, 90, 180, 270)
    return turns[quarters]
