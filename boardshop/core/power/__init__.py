"""Power: what may feed what, what it draws, what the leads lose."""

from boardshop.core.power.choices import Choice, is_wrongly_fed, judge_feed, list_choices
from boardshop.core.power.connections import Feeding, make_feeding
from boardshop.core.power.matching import judge_pair
from boardshop.core.power.pairing import Pairing, pair_up
from boardshop.core.power.section import PowerSection, compute_power

__all__ = [
    "Choice",
    "Feeding",
    "Pairing",
    "PowerSection",
    "compute_power",
    "is_wrongly_fed",
    "judge_feed",
    "judge_pair",
    "list_choices",
    "make_feeding",
    "pair_up",
]
