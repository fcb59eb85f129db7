"""Power: what may feed what, what it draws, what the leads lose."""

from boardshop.core.power.choices import Choice, is_wrongly_fed, judge_feed, list_choices
from boardshop.core.power.connections import Feeding, make_feeding
from boardshop.core.power.goals import Goal, list_goals, move_feed
from boardshop.core.power.matching import judge_pair
from boardshop.core.power.pairing import Pairing, pair_up
from boardshop.core.power.section import OutletRow, PowerSection, SumRow, compute_power

__all__ = [
    "Choice",
    "Feeding",
    "Goal",
    "OutletRow",
    "Pairing",
    "PowerSection",
    "SumRow",
    "compute_power",
    "is_wrongly_fed",
    "judge_feed",
    "judge_pair",
    "list_choices",
    "list_goals",
    "make_feeding",
    "move_feed",
    "pair_up",
]
