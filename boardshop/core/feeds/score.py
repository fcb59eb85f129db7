"""How good a set of feeds is: eight aims, in their order, each the less the better."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan, Feed
from boardshop.core.power.connections import Connection, Feeding, make_feeding
from boardshop.core.power.goals import JOINING
from boardshop.core.power.loads import OutletLoad, add_up_outlet
from boardshop.core.printing import Json, round_percent, round_whole


@dataclass(frozen=True, slots=True, order=True)
class Score:
    """Exact; compares as the aims are ranked."""

    unfed: int
    digital_sharing: int
    sharing: int
    above_headroom: int
    adapters: int
    largest_percent: Fraction
    changed: int
    squares: Fraction
    """Percent squared, over all outlets."""

    def printed(self) -> list[Json]:
        """In the order of the fields: counts, the percent with one decimal, the squares as a whole number."""
        return [
            self.unfed,
            self.digital_sharing,
            self.sharing,
            self.above_headroom,
            self.adapters,
            round_percent(float(self.largest_percent)),
            self.changed,
            round_whole(float(self.squares)),
        ]


def score_feeds(plan: BoardPlan, feeds: Sequence[Feed], jacks: Sequence[str]) -> Score:
    """These feeds on this plan, measured against the plan's own; ``jacks`` are all that are to be fed."""
    feeding = make_feeding(plan, feeds)
    fed = {fold(one.ref): c for c in feeding.connections for one in c.jacks}
    loads = [add_up_outlet(feeding, s, o) for s in plan.supplies for o in s.outlets]
    percents = [_percent_of(load) for load in loads]
    most = 100 - plan.rules.headroom_percent
    return Score(
        unfed=sum(fold(end) not in fed for end in jacks),
        digital_sharing=_count_digital_sharing(feeding),
        sharing=sum(_shares_outlet(feeding, c) for c in feeding.connections for _ in c.jacks),
        above_headroom=sum(percent > most for percent in percents),
        adapters=sum(count_adapters(c) for c in feeding.connections),
        largest_percent=max(percents, default=Fraction(0)),
        changed=sum(is_changed(plan, feeding, end) for end in jacks),
        squares=sum((percent * percent for percent in percents), Fraction(0)),
    )


def count_adapters(connection: Connection) -> int:
    """What joins outlets counts once, a reverser or converter once for each jack that needs it."""
    joining = sum(name in JOINING for name in connection.adapters)
    return joining + (len(connection.adapters) - joining) * len(connection.jacks)


def is_changed(plan: BoardPlan, feeding: Feeding, end: str) -> bool:
    """Whether a jack is fed otherwise than in the plan: other outlets, another setting, other adapters."""
    return _way_of(feeding, end) != _way_of(make_feeding(plan), end)


def _way_of(feeding: Feeding, end: str) -> object:
    for connection in feeding.connections:
        if any(fold(fed.ref) == fold(end) for fed in connection.jacks):
            outlets = sorted((fold(tap.ref), tap.setting_mv or 0) for tap in connection.taps)
            return outlets, sorted(connection.adapters)
    return None


def _percent_of(load: OutletLoad) -> Fraction:
    """0 where no limit is recorded: nothing can be said of it."""
    return load.load.percent_of(load.load.load_ma) or Fraction(0)


def _count_digital_sharing(feeding: Feeding) -> int:
    shared = [cs for cs in feeding.by_return.values() if sum(len(c.jacks) for c in cs) > 1]
    jacks = [fed for connections in shared for c in connections for fed in c.jacks]
    return sum(fed.pedal.circuit == "digital" for fed in jacks)


def _shares_outlet(feeding: Feeding, connection: Connection) -> bool:
    return any(len(feeding.jacks_at(tap.ref)) > 1 for tap in connection.taps)
