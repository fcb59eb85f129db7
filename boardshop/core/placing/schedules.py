"""How the annealing cools: rounds of fixed work, sized from the seconds that are asked for."""

import math
from dataclasses import dataclass

import numpy as np

from boardshop.core.placing.arrays import UNIT, Ints

MOVES_PER_SECOND = 2_400_000
"""Trials of one thread in a second, measured on the two cores this was written on and rounded down."""
STEPS = 400
FIRST_WITH_WEIGHTS = 40
"""Steps before the weights of overlapping pairs begin to grow."""
CHUNK = 20
"""Steps between two looks at the watch."""

LOGS: Ints = np.array([int(-math.log((k + 0.5) / 4096) * 65536) for k in range(4096)], np.int64)
"""-ln of a uniform draw, by 12 bits of it, times 65536: what decides on a move without a float."""


@dataclass(frozen=True, slots=True)
class Cooling:
    """From hot to cold; heat in units of the score, price in units of the score for each mm of overlap.

    ``growth`` and ``decay`` are 256ths by which a pair's weight rises or falls at each step.
    """

    hot: float = 1200.0
    cold: float = 8.0
    cheap: float = 8.0
    dear: float = 120.0
    window: int = 140
    growth: int = 16
    decay: int = 4

    def rows(self) -> Ints:
        """[step]: heat and price in sixteenths, window in mm, growth, decay; what `run_steps` reads."""
        table = np.zeros((STEPS, 5), np.int64)
        for step in range(STEPS):
            part = step / STEPS
            heat = self.hot * (self.cold / self.hot) ** part
            price = self.cheap * (self.dear / self.cheap) ** part
            growth = self.growth if step > FIRST_WITH_WEIGHTS or self.hot < HOT_ENOUGH else 0
            window = 4 + self.window * (1 - part) ** 1.5
            table[step] = int(UNIT * heat), int(UNIT * price), int(window), growth, self.decay
        return table


HOT_ENOUGH = 300.0
"""Below this a round begins from places that are nearly right, and weights work from the start."""
