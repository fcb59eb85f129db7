"""Where the lanes stand when drawn: a column for each stop, a row for each lane.

A stop's column is one more than that of the furthest right of what feeds it (longest-path layering), joins
that lead back left out.  A lane takes a stretch of its row in half columns: column c is 2c, the gap to its
right 2c + 1.  What leaves a pedal at its sends hangs below it as one block, and so does an amp that leads
straight into one of its returns; the pedal's own column is kept free down to the last of them.  Of two such
pedals in one lane the one further right comes first, so that both find room.
"""

from dataclasses import dataclass

from boardshop.core.order.lanes import Lane, Lanes

type Stretch = tuple[int, int]
type Rows = dict[int, int]
"""What is taken of each row, one bit for each half column."""

LEFTMOST = -2
"""Where an instrument stands, before the first column."""


@dataclass(frozen=True, slots=True)
class LaneGrid:
    """``columns`` by ref of the stops; by number of the lanes ``rows``, ``spans`` in half columns, and in
    ``hangs`` the ref of the pedal that a lane hangs below.
    """

    columns: dict[str, int]
    rows: dict[int, int]
    spans: dict[int, Stretch]
    hangs: dict[int, str]


@dataclass(frozen=True, slots=True)
class _Block:
    """A lane with its loops below it: the rows of its lanes and what they take, the lane itself in row 0."""

    rows: dict[int, int]
    taken: Rows


def lay_out_lanes(lanes: Lanes) -> LaneGrid:
    columns = find_columns(lanes)
    spans = {lane.number: _span(lane, columns) for lane in lanes.lanes}
    hangs = {
        lane.number: owner
        for lane in lanes.lanes
        if (owner := _owner(lane)) and spans[lane.number][0] == 2 * columns[owner]
    }
    hanging: dict[str, list[Lane]] = {}
    for lane in lanes.lanes:
        if lane.number in hangs:
            hanging.setdefault(hangs[lane.number], []).append(lane)
    lane_of = {ref: lane.number for lane in lanes.lanes for ref in lane.stops}
    rows: dict[int, int] = {}
    taken: Rows = {}
    for lane in lanes.lanes:
        if lane.number in hangs:
            continue
        block = _block(lane, hanging, columns, spans)
        parents = [lane_of[at[0]] for at in (lane.leaves, lane.returns) if at]
        near = [rows[number] for number in parents if number in rows and number != lane.number]
        row = near[0] + 1 if near else max(taken, default=-1) + 1
        row = _first_free(block.taken, taken, row)
        _put(block.taken, taken, row)
        rows |= {number: row + below for number, below in block.rows.items()}
    return LaneGrid(columns, rows, spans, hangs)


def find_columns(lanes: Lanes) -> dict[str, int]:
    columns = dict.fromkeys(lanes.order, 0)
    followers: dict[str, list[str]] = {}
    for join in lanes.joins:
        if join.from_pedal and join.to_pedal and not join.is_back:
            followers.setdefault(join.source, []).append(join.target)
    for ref in lanes.order:
        for follower in followers.get(ref, ()):
            columns[follower] = max(columns[follower], columns[ref] + 1)
    return columns


def _owner(lane: Lane) -> str:
    """The pedal whose send or return a lane may hang on, else ''."""
    if lane.leaves and lane.joins[0].from_send:
        return lane.leaves[0]
    if lane.returns and lane.start and not lane.stops and lane.joins[0].to_return:
        return lane.returns[0]
    return ""


def _span(lane: Lane, columns: dict[str, int]) -> Stretch:
    """From what it leaves or begins with to what it returns to or ends with, those in its row included."""
    left = columns[lane.leaves[0]] if lane.leaves else None
    right = columns[lane.returns[0]] if lane.returns else None
    owner = _owner(lane)
    if not lane.stops and left is None:
        if owner:
            return 2 * columns[owner], 2 * columns[owner] + 2
        return (-2, 0) if right is None else (2 * right - 2, 2 * right - 1)
    first = columns[lane.stops[0]] if lane.stops else (left or 0) + 1
    last = columns[lane.stops[-1]] if lane.stops else first - 1
    begins = 2 * first - 2 if left is None else 2 * left + (0 if owner else 1)
    if right is None:
        return begins, 2 * last + 2
    if right > last:
        return begins, 2 * right - 1
    to_owner = lane.returns is not None and lane.returns[0] == owner
    return begins if to_owner else min(begins, 2 * right - 1), 2 * last + (1 if lane.stops else 2)


def _block(
    lane: Lane, hanging: dict[str, list[Lane]], columns: dict[str, int], spans: dict[int, Stretch]
) -> _Block:
    block = _Block({lane.number: 0}, {0: _bits(spans[lane.number])})
    for owner in reversed(lane.stops):
        column = _bits((2 * columns[owner], 2 * columns[owner]))
        lowest = 0
        for lane_below in hanging.get(owner, ()):
            inner = _block(lane_below, hanging, columns, spans)
            row = _first_free(inner.taken, block.taken, lowest + 1)
            _put(inner.taken, block.taken, row)
            _put(dict.fromkeys(range(lowest + 1, row), column), block.taken, 0)
            block.rows.update({number: row + below for number, below in inner.rows.items()})
            lowest = row
    return block


def _bits(stretch: Stretch) -> int:
    low, high = stretch
    return ((1 << high - low + 1) - 1) << low - LEFTMOST


def _first_free(one: Rows, taken: Rows, row: int) -> int:
    """The first row, from the given one downwards, below which all of one's rows find room."""
    top = one[0]
    while top & taken.get(row, 0) or any(bits & taken.get(row + below, 0) for below, bits in one.items()):
        row += 1
    return row


def _put(one: Rows, into: Rows, below: int) -> None:
    for row, bits in one.items():
        into[row + below] = into.get(row + below, 0) | bits
