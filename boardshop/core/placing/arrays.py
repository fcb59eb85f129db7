"""The arrays that the compiled search works on: what never changes, and where everything stands.

A *thing* is a pedal, a supply on the frame, a keep-out or a reserved room; those that may move come first.
A *part* is one rectangle of it: its body, a plug, the strip before a treadle.  All whole mm, int64.
"""

from typing import NamedTuple

import numpy as np

type Ints = np.ndarray[tuple[int, ...], np.dtype[np.int64]]
type Flags = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]
type Random = np.ndarray[tuple[int, ...], np.dtype[np.uint64]]

PARTS, SWITCHES, NETS, TURNS = 0, 1, 2, 3
"""Columns of `Model.counts`."""
SORT, HEIGHT = 4, 5
"""Columns of a part after its box."""
LOW_X, HIGH_X, LOW_Y, HIGH_Y, FRONT_SWITCH = 4, 5, 6, 7, 8
"""Columns of `Model.reach` after the outline of all parts."""
BODY, PLUG, KEEPOUT, STRIP, ROOM = 0, 1, 2, 3, 4
"""Sorts of parts: the index into `Model.gaps`."""
SWITCH_GAP, LEAST_APART, MOST_APART, MOST_DEEP, CABLE_WEIGHT, PASSING, WIDEST = 0, 1, 2, 3, 4, 5, 6
"""Places in `Model.rules`."""
ALONE = -1
"""No other thing: the fixed end of a lead in `Model.nets`."""
UNIT = 16
"""Weights of overlaps and temperatures count in sixteenths."""
FAR = 1 << 60


class Model(NamedTuple):
    parts: Ints
    """[thing, turn, part]: box x0 y0 x1 y1 from the place, sort, height of the jack or -1."""
    counts: Ints
    """[thing]: parts, switches, nets, allowed turns."""
    turns: Ints
    """[thing, n]: the allowed turns, in quarters."""
    reach: Ints
    """[thing, turn]: outline of all parts, least and most x and y of the place, y of the front switch."""
    allowed_y: Flags
    """[thing, turn, y]: whether the place may have this y."""
    switches: Ints
    """[thing, turn, switch]: x, y."""
    ends: Ints
    """[thing, turn, end]: x, y of each plug's outer end that a net starts from."""
    nets: Ints
    """[thing, net]: own end, other thing, its end; or own end, ALONE, x, y."""
    use: Ints
    gaps: Ints
    pairs: Flags
    """[thing, thing]: stepped on together."""
    rules: Ints
    home: Ints
    """[thing]: x, y, turn where it stood, cost of leaving it and cost of each mm; both 0 for none."""


class State(NamedTuple):
    place: Ints
    """[thing]: x, y, turn in quarters."""
    outline: Ints
    """[thing]: the outline where it stands, wider by the largest gap."""
    standing: Ints
    """[thing, part]: boxes where they stand."""
    feet: Ints
    overlap: Ints
    """[thing, thing]: weighed penalty between the two."""
    trouble: Ints
    """[thing]: its row of `overlap`, summed."""
    weights: Ints
    """[thing, thing]: in sixteenths; grows while the two overlap; 0 between two that cannot move."""
    sums: Ints
    """[0] cost, [1] penalty."""
    rows: Ints
    """[2, thing]: penalties of what is being tried."""
    random: Random
    best: Ints
    """[thing]: the cheapest places without overlap."""
    best_cost: Ints
