"""The order of the pedals: the signal's paths, the rules of order, and the order with the fewest moves."""

from boardshop.core.order.graph import list_loops, signal_links
from boardshop.core.order.pairs import Outcome, compare_sequences
from boardshop.core.order.paths import SignalPath, signal_paths
from boardshop.core.order.ranks import rank_of, slot_of
from boardshop.core.order.reasons import Move, explain_moves
from boardshop.core.order.rules import PAIR_RULES, PairRule
from boardshop.core.order.section import (
    BoardSuggestion,
    OrderSection,
    compute_order,
    list_chains,
    suggest_board,
)
from boardshop.core.order.suggestion import (
    Suggestion,
    list_suggestions,
    move_all,
    move_one,
    new_joins,
    suggest_order,
)

__all__ = [
    "PAIR_RULES",
    "BoardSuggestion",
    "Move",
    "OrderSection",
    "Outcome",
    "PairRule",
    "SignalPath",
    "Suggestion",
    "compare_sequences",
    "compute_order",
    "explain_moves",
    "list_chains",
    "list_loops",
    "list_suggestions",
    "move_all",
    "move_one",
    "new_joins",
    "rank_of",
    "signal_links",
    "signal_paths",
    "slot_of",
    "suggest_board",
    "suggest_order",
]
