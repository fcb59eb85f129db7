"""Placing the pedals: a search for the shortest cables and the nearest steps that breaks no rule.

What is asked and answered is in `answers`, what can be told at once in `impossible`; the searches, which
load a compiler, are in `proposal`, `room`, `cures` and `frames`.
"""

from boardshop.core.placing.answers import Placing, Progress, Watch, Wishes
from boardshop.core.placing.impossible import find_impossible

__all__ = ["Placing", "Progress", "Watch", "Wishes", "find_impossible"]
