"""Where everything of the grounds stands on their sheet, in px at the natural size.

Units stand in a row.  A link of two neighbours runs straight between them, every other in a bracket above.
Below stand bars: one for each supply return, and the lowest for the protective earth; what hangs on a bar
meets it in a dot, and what only crosses it does not.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from boardshop.core.grounds import GroundGraph, Join

MARGIN, BOX, BOX_HEIGHT, GAP = 14.0, 84.0, 54.0, 52.0
"""Room at the edges, a unit's width and height, and what lies between two units."""
BRACKET_STEP, FIRST_BRACKET = 26.0, 24.0
"""From one bracket to the next above it, and from a unit to the lowest."""
BAR_STEP, FIRST_BAR, EARTH_STEP = 46.0, 60.0, 56.0
"""From one bar to the next below it, from a unit to the uppermost, and from the last to that of the earth."""
BAR_HALF, BAR_WORDS = 24.0, 74.0
"""How far a bar reaches past what hangs on it, and the room that its name takes at least."""
SYMBOL_ROOM, SYMBOL_WORDS = 58.0, 140.0
"""The height and the width that the sign of the protective earth takes with its words."""
NAME_ROOM = 18.0
"""Below a bar, for its name."""

type Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Bracket:
    """A link above the units: from one top to the other, at a height."""

    one_x: float
    other_x: float
    y: float


@dataclass(frozen=True, slots=True)
class Bar:
    left: float
    right: float
    y: float


class GroundSheet:
    """Columns, then the places of the joins' ends at the units, then brackets and bars."""

    def __init__(self, graph: GroundGraph, units: Sequence[str]) -> None:
        """``units`` are the nodes that stand in the row, in their order; the others are returns and earth."""
        self.units = tuple(units)
        self.column = {unit: number for number, unit in enumerate(self.units)}
        self.earth = graph.nodes[-1]
        between = [join for join in graph.joins if join.one in self.column and join.other in self.column]
        self.straight = _pick_straight(between, self.column)
        self.over = tuple(join for join in between if join not in self.straight)
        self.down = tuple(join for join in graph.joins if join not in between and join.one in self.column)
        self.from_bars = tuple(join for join in graph.joins if join.one not in self.column)
        self._above, self._below = self._place_ends()
        levels = self._stack_brackets()
        self.top = MARGIN + (FIRST_BRACKET + BRACKET_STEP * (max(levels.values()) + 1) if levels else 0)
        self.brackets = {ref: self._bracket(ref, level) for ref, level in levels.items()}
        self.bars = self._lay_bars()
        lowest = max((bar.y for bar in self.bars.values()), default=self.bottom)
        self.height = lowest + (SYMBOL_ROOM if self.earth in self.bars else NAME_ROOM) + MARGIN
        rights = {
            node: bar.right + (SYMBOL_WORDS if node == self.earth else 0) for node, bar in self.bars.items()
        }
        rightmost = max(rights.values(), default=0)
        self.width = max(self._left(len(self.units)) - GAP, rightmost) + MARGIN

    @property
    def bottom(self) -> float:
        """Of the units' outlines."""
        return self.top + BOX_HEIGHT

    @property
    def middle(self) -> float:
        return self.top + BOX_HEIGHT / 2

    def left_of(self, unit: str) -> float:
        return self._left(self.column[unit])

    def below(self, join: Join) -> float:
        """Where a join leaves downwards: a unit's, or a bar's own beyond what hangs on the bar."""
        if join.one in self.column:
            return self._below[join.ref]
        return self.bars[join.one].right - 5

    def straight_span(self, join: Join) -> Span:
        left, right = sorted((self.column[join.one], self.column[join.other]))
        return self._left(left) + BOX, self._left(right)

    def _left(self, column: int) -> float:
        return MARGIN + column * (BOX + GAP)

    def _place_ends(self) -> tuple[dict[tuple[str, int], float], dict[str, float]]:
        """Ends of brackets along the tops, by ref and which end; of what hangs below along the bottoms."""
        above: dict[tuple[str, int], float] = {}
        below: dict[str, float] = {}
        for unit in self.units:
            ends = [
                (self.column[other], join.ref, end)
                for join in self.over
                for end, (own, other) in enumerate(((join.one, join.other), (join.other, join.one)))
                if own == unit
            ]
            for at, (_, ref, end) in enumerate(sorted(ends), start=1):
                above[ref, end] = self.left_of(unit) + BOX * at / (len(ends) + 1)
            hanging = [join.ref for join in self.down if join.one == unit]
            for at, ref in enumerate(hanging, start=1):
                below[ref] = self.left_of(unit) + BOX * at / (len(hanging) + 1)
        return above, below

    def _stack_brackets(self) -> dict[str, int]:
        spans = {join.ref: self._span_above(join.ref) for join in self.over}
        short_first = sorted(spans, key=lambda ref: (spans[ref][1] - spans[ref][0], spans[ref]))
        return _stack({ref: spans[ref] for ref in short_first})

    def _span_above(self, ref: str) -> Span:
        one, other = sorted((self._above[ref, 0], self._above[ref, 1]))
        middle, half = (one + other) / 2, max((other - one) / 2, BAR_WORDS / 2)
        return middle - half, middle + half

    def _bracket(self, ref: str, level: int) -> Bracket:
        one, other = sorted((self._above[ref, 0], self._above[ref, 1]))
        return Bracket(one, other, self.top - FIRST_BRACKET - BRACKET_STEP * level)

    def _lay_bars(self) -> dict[str, Bar]:
        """The returns by their leftmost drop, then earth below all of them."""
        drops: dict[str, list[float]] = {}
        for join in self.down:
            if join.other != self.earth:
                drops.setdefault(join.other, []).append(self._below[join.ref])
        bare = [join.one for join in self.from_bars if join.one not in drops]
        at = self._left(len(self.units))
        for number, node in enumerate(bare):
            drops[node] = [at + number * (BAR_WORDS + BAR_HALF)]
        spans = {node: (min(xs) - BAR_HALF, max(max(xs), min(xs)) + BAR_HALF) for node, xs in drops.items()}
        ordered = dict(sorted(spans.items(), key=lambda one: one[1]))
        levels = _stack(
            {node: (left, max(right, left + BAR_WORDS)) for node, (left, right) in ordered.items()}
        )
        bars = {
            node: Bar(left, right, self.bottom + FIRST_BAR + BAR_STEP * levels[node])
            for node, (left, right) in ordered.items()
        }
        lowest = max((bar.y for bar in bars.values()), default=self.bottom + FIRST_BAR - EARTH_STEP)
        self.bars = bars
        xs = [self.below(join) for join in (*self.down, *self.from_bars) if join.other == self.earth]
        if not xs:
            return bars
        return bars | {self.earth: Bar(min(xs) - BAR_HALF, max(xs) + BAR_HALF, lowest + EARTH_STEP)}


def _pick_straight(joins: Sequence[Join], column: Mapping[str, int]) -> tuple[Join, ...]:
    """The first link of each pair of neighbours."""
    taken: dict[int, Join] = {}
    for join in joins:
        left, right = sorted((column[join.one], column[join.other]))
        if right - left == 1:
            taken.setdefault(left, join)
    return tuple(taken.values())


def _stack(spans: Mapping[str, Span]) -> dict[str, int]:
    """The lowest level for each span, in the order given, on which it meets no other."""
    levels: list[list[Span]] = []
    found: dict[str, int] = {}
    for name, span in spans.items():
        free = (at for at, others in enumerate(levels) if not any(_meet(span, other) for other in others))
        level = next(free, len(levels))
        if level == len(levels):
            levels.append([])
        levels[level].append(span)
        found[name] = level
    return found


def _meet(one: Span, other: Span) -> bool:
    return one[0] < other[1] + 6 and other[0] < one[1] + 6


def list_joined(graph: GroundGraph, names: Iterable[str]) -> tuple[str, ...]:
    """Of these nodes those that anything is joined to."""
    joined = {node for join in graph.joins for node in (join.one, join.other)}
    return tuple(name for name in names if name in joined)
