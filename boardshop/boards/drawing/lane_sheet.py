"""Where everything of the lanes stands on their sheet: columns, rows, and the upright lines between them.

All lengths are px at the natural size.  Between two columns lies a gap; upright lines that part from what is
left of it take tracks at its left, those that join what is right of it tracks at its right, so that no two
lines lie on each other.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from math import ceil

from boardshop.boards.drawing.lettering import measure
from boardshop.boards.drawing.pens import REF
from boardshop.core.order.lane_grid import LaneGrid
from boardshop.core.order.lanes import Lane, Lanes

RADIUS, CELL, GAP = 17.0, 92.0, 30.0
"""A balloon's radius, the widths of a column and of a plain gap."""
TRACK, EDGE = 10.0, 12.0
"""The distances of two tracks, and of the first from its column."""
LEAST_WORDS = 28.0
"""The room for a link's ref beside upright lines."""
LETTER = 12.0
"""Type size of refs and jacks; names are larger."""
MARGIN, ABOVE, BELOW, BELOW_EMPTY = 10.0, 32.0, 70.0, 24.0
LOW_STEP, LOW_ROOM = 18.0, 12.0
"""From what stands below a balloon to the line that leads back, and from that to the next row."""
OVER_STEP, OVER_ROOM = 38.0, 28.0
"""The same above a row, where loops hang in the way below it: from a balloon's middle, and room added."""
RETURN_DROP = 14.0
"""How far below a pedal's way in a line meets its outline that leads to one of its returns."""

type Key = tuple[str, str | int]


@dataclass(slots=True)
class Trunk:
    """An upright line: at each height the number of lines that meet it there; ``x`` once it has a track."""

    gap: int
    is_left: bool
    arms: dict[float, int] = field(default_factory=dict)
    x: float = 0

    @property
    def reach(self) -> tuple[float, float]:
        return min(self.arms), max(self.arms)

    def meet(self, y: float) -> None:
        self.arms[y] = self.arms.get(y, 0) + 1

    def dots(self) -> Iterator[float]:
        """Where three or more lines meet."""
        upper, lower = self.reach
        for y, level in self.arms.items():
            if level + (y > upper) + (y < lower) > 2:
                yield y


class LaneSheet:
    """Heights first, then the upright lines, then their tracks, which make the gaps as wide as they need."""

    def __init__(self, lanes: Lanes, grid: LaneGrid) -> None:
        self.lanes, self.grid = lanes.lanes, grid
        self.row_of = {ref: grid.rows[lane.number] for lane in self.lanes for ref in lane.stops}
        self.boxed = {j.source for j in lanes.joins if j.from_pedal and j.from_send}
        self.boxed |= {j.target for j in lanes.joins if j.to_pedal and j.to_return}
        self.turning = {lane.number for lane in self.lanes if self._turns(lane)}
        hung = set(grid.hangs.values())
        self.over = {one.number for one in self.lanes if one.number in self.turning and hung & set(one.stops)}
        self.levels, self.lows, self.bottom = self._stack_rows()
        self.trunks: dict[Key, Trunk] = {}
        for lane in self.lanes:
            self._raise_trunks(lane)
        self._meet_stops()
        halves = [half for span in grid.spans.values() for half in span]
        self.first, self.last = min(halves, default=0) // 2, max(halves, default=0) // 2
        self.lefts = self._spread()
        rightmost = max((trunk.x for trunk in self.trunks.values()), default=0)
        self.width = max(self.lefts[self.last] + CELL, rightmost) + MARGIN

    def middle(self, column: int) -> float:
        return self.lefts[column] + CELL / 2

    def level(self, lane: Lane) -> float:
        return self.levels[self.grid.rows[lane.number]]

    def low(self, lane: Lane) -> float:
        """The height of the line that leads back."""
        row = self.grid.rows[lane.number]
        return self.levels[row] - OVER_STEP if lane.number in self.over else self.lows[row]

    def point(self, ref: str) -> tuple[float, float]:
        return self.middle(self.grid.columns[ref]), self.levels[self.row_of[ref]]

    def reach_of(self, ref: str) -> float:
        """From a stop's middle to where lines meet it."""
        return CELL / 2 if ref in self.boxed else RADIUS

    def entry(self, lane: Lane) -> float:
        """The height at which a lane meets the pedal that it returns to."""
        assert lane.returns is not None
        drop = RETURN_DROP if lane.joins[-1].to_return else 0
        return self.levels[self.row_of[lane.returns[0]]] + drop

    def is_flipped(self, lane: Lane) -> bool:
        """An amp that leads from the right into the return of the pedal it hangs below."""
        return lane.number in self.grid.hangs and lane.leaves is None

    def comes_back(self, lane: Lane) -> bool:
        """Whether it returns, from its right, to the pedal that it hangs below."""
        owner = self.grid.hangs.get(lane.number)
        return owner is not None and lane.leaves is not None and (lane.returns or ("",))[0] == owner

    def _turns(self, lane: Lane) -> bool:
        """Whether it ends further right than where it returns, so that a line leads back below it."""
        if not lane.returns or self.is_flipped(lane):
            return False
        if not lane.stops:
            return self.comes_back(lane)
        return self.grid.columns[lane.returns[0]] <= self.grid.columns[lane.stops[-1]]

    def _stack_rows(self) -> tuple[dict[int, float], dict[int, float], float]:
        rows = self.grid.rows
        full = {rows[lane.number] for lane in self.lanes if lane.stops}
        ends = {rows[lane.number] for lane in self.lanes if lane.start or lane.end}
        turned = {rows[number] for number in self.turning - self.over}
        over = {rows[number] for number in self.over}
        levels: dict[int, float] = {}
        lows: dict[int, float] = {}
        y = MARGIN
        for row in range(max(rows.values(), default=-1) + 1):
            above = ABOVE if row in full or row in ends else BELOW_EMPTY
            levels[row] = y + above + (OVER_ROOM if row in over else 0)
            below = BELOW if row in full else ABOVE + 4 if row in ends else BELOW_EMPTY
            lows[row] = levels[row] + (below + LOW_STEP if row in full else below)
            y = lows[row] + LOW_ROOM if row in turned else levels[row] + below
        return levels, lows, y

    def _raise_trunks(self, lane: Lane) -> None:
        """The upright lines of one lane: where it parts, where it turns back, where it joins."""
        columns, hangs = self.grid.columns, self.grid.hangs
        if lane.leaves and lane.number not in hangs:
            owner = lane.leaves[0]
            parting = self._trunk(("part", owner), columns[owner], True)
            parting.meet(self.level(lane))
        if lane.number in self.turning and lane.stops:
            turn = self._trunk(("turn", lane.number), columns[lane.stops[-1]], True)
            turn.meet(self.level(lane))
            turn.meet(self.low(lane))
        if lane.returns and not self.is_flipped(lane) and not self.comes_back(lane):
            joining = self._trunk(self.join_key(lane), columns[lane.returns[0]] - 1, False)
            joining.meet(self.low(lane) if lane.number in self.turning else self.level(lane))

    def join_key(self, lane: Lane) -> Key:
        assert lane.returns is not None
        return ("return" if lane.joins[-1].to_return else "join", lane.returns[0])

    def _trunk(self, key: Key, gap: int, is_left: bool) -> Trunk:
        return self.trunks.setdefault(key, Trunk(gap, is_left))

    def _meet_stops(self) -> None:
        """Each upright line at the pedal it is for, and the lane of that pedal where it goes straight on."""
        goes_on = {ref for lane in self.lanes for ref in self._going_on(lane)}
        led_into = {ref for lane in self.lanes for ref in self._led_into(lane)}
        for (kind, ref), trunk in self.trunks.items():
            if kind == "turn":
                continue
            y = self.levels[self.row_of[str(ref)]] + (RETURN_DROP if kind == "return" else 0)
            trunk.meet(y)
            if (kind == "part" and ref in goes_on) or (kind == "join" and ref in led_into):
                trunk.meet(y)

    def _going_on(self, lane: Lane) -> tuple[str, ...]:
        leads_out = bool(lane.end or lane.returns)
        return lane.stops if leads_out else lane.stops[:-1]

    def _led_into(self, lane: Lane) -> tuple[str, ...]:
        return lane.stops if lane.start or lane.leaves else lane.stops[1:]

    def _spread(self) -> dict[int, float]:
        """The left edge of each column, after every upright line has got its track."""
        sides: dict[tuple[int, bool], list[list[Trunk]]] = {}
        turns = [("turn", lane.number) for lane in self.lanes]
        last = {id(self.trunks[key]) for key in turns if key in self.trunks}
        for trunk in sorted(self.trunks.values(), key=lambda one: (id(one) in last, one.reach)):
            tracks = sides.setdefault((trunk.gap, trunk.is_left), [])
            free = next((t for t in tracks if all(_apart(trunk, one) for one in t)), None)
            if free is None:
                tracks.append(free := [])
            free.append(trunk)
        lefts: dict[int, float] = {}
        x = MARGIN
        words = self._jack_widths()
        for column in range(self.first, self.last + 1):
            lefts[column] = x
            left, right = sides.get((column, True), []), sides.get((column, False), [])
            uprights = sum(2 * EDGE + TRACK * (len(side) - 1) for side in (left, right) if side)
            gap = max(GAP, ceil(uprights + max(words.get(column, 0), LEAST_WORDS))) if uprights else GAP
            _set_tracks(left, x + CELL + EDGE, TRACK)
            _set_tracks(right, x + CELL + gap - EDGE, -TRACK)
            x += CELL + gap
        return lefts

    def _jack_widths(self) -> dict[int, float]:
        """The room for names of jacks in each gap, beyond what the half column beside a balloon gives."""
        wanted: dict[int, float] = {}
        for lane in self.lanes:
            parts = [(self.grid.columns[at[0]], at[1]) for at in (lane.leaves,) if at and self.parts(lane)]
            joins = [
                (self.grid.columns[at[0]] - 1, at[1]) for at in (lane.returns,) if at and self.joins(lane)
            ]
            widths: dict[int, float] = {}
            for gap, jack in (*parts, *joins):
                widths[gap] = widths.get(gap, 0) + words_width(jack)
            is_short = len(parts) + len(joins) > len(widths)
            for gap, width in widths.items():
                wanted[gap] = max(wanted.get(gap, 0), width + (TRACK if is_short else -2 * TRACK))
        return wanted

    def parts(self, lane: Lane) -> bool:
        return lane.leaves is not None and lane.number not in self.grid.hangs

    def joins(self, lane: Lane) -> bool:
        return lane.returns is not None and not self.is_flipped(lane) and not self.comes_back(lane)


def words_width(words: str) -> float:
    return measure(words, LETTER, REF.face)


def _apart(one: Trunk, other: Trunk) -> bool:
    return one.reach[1] < other.reach[0] or other.reach[1] < one.reach[0]


def _set_tracks(tracks: list[list[Trunk]], x: float, step: float) -> None:
    for at, trunks in enumerate(tracks):
        for trunk in trunks:
            trunk.x = x + at * step
