"""The command `layout`: the best placing as the board-file format names it."""

from boardshop.core.placing.answers import Placing, Wishes
from boardshop.core.placing.proposal import propose_layout
from boardshop.core.plan import BoardPlan


def print_layout(plan: BoardPlan, seconds: int = 5, seed: int = 0) -> dict[str, object]:
    """`{places, left_out, score, total_mm, optimal, bound, why}`."""
    return print_placing(propose_layout(plan, Wishes(seconds=seconds, seed=seed)))


def print_placing(placing: Placing) -> dict[str, object]:
    return {
        "places": {ref: {"x": place.x, "y": place.y, "turn": place.turn} for ref, place in placing.places},
        "left_out": list(placing.left_out),
        "score": placing.score,
        "total_mm": placing.total_mm,
        "optimal": placing.optimal,
        "bound": placing.bound,
        "why": placing.why,
    }
