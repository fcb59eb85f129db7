"""The report's weight section: what the board weighs without its case, and what that means for lifting it.

Basis of the bands: 23 kg is the load constant of the revised NIOSH lifting equation (DHHS (NIOSH) 94-110),
the most for one person under the best conditions; 15 kg and 32 kg are common practice.
None of them says that a lift is safe: local rules and the place decide.
"""

from dataclasses import dataclass

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.naming import say_all
from boardshop.core.plan import BoardPlan

FRAME = "frame"
"""What the frame is called among the counted parts: it has no ref."""

NIOSH = "NIOSH 94-110, load constant 23 kg"
LOCAL_RULES = (
    "Local rules for lifting by hand come first; stairs and lifts above 1 m call for one band stricter."
)


@dataclass(frozen=True, slots=True)
class LiftingBand:
    """Weights above ``above_g``, up to the next band."""

    above_g: int
    rule: str
    severity: str
    advice: str
    basis: str


LIFTING_BANDS = (
    LiftingBand(
        32_000, "M04", "caution", "it takes two people and is too heavy for an airline bag", "common practice"
    ),
    LiftingBand(23_000, "M03", "caution", "it takes two people", NIOSH),
    LiftingBand(
        15_000,
        "M02",
        "advice",
        "one person lifts it close to the body and without a twist",
        "common practice",
    ),
)
"""Heaviest first; below the last one person lifts it easily."""


@dataclass(frozen=True, slots=True)
class WeightSection:
    """Grams of the parts whose weight is recorded; ``counted`` and ``unknown`` name the parts."""

    board_g: int
    counted: tuple[str, ...]
    unknown: tuple[str, ...]
    findings: tuple[Finding, ...]


def compute_weight(plan: BoardPlan) -> WeightSection:
    """The frame, every pedal and every supply; no case, cables or plugs."""
    parts = [(FRAME, plan.frame.weight)]
    parts += [(pedal.ref, pedal.weight) for pedal in plan.pedals]
    parts += [(supply.ref, supply.weight) for supply in plan.supplies]
    board_g = sum(weight for _, weight in parts if weight is not None)
    unknown = tuple(name for name, weight in parts if weight is None)
    counted = tuple(name for name, weight in parts if weight is not None)
    findings = [*_name_unknown(unknown), *_judge_lifting(board_g, bool(unknown))]
    return WeightSection(board_g, counted, unknown, sort_findings(findings))


def lifting_band(weight_g: int) -> LiftingBand | None:
    """The heaviest band that the weight is above; None where one person lifts it easily."""
    return next((band for band in LIFTING_BANDS if weight_g > band.above_g), None)


def _name_unknown(unknown: tuple[str, ...]) -> list[Finding]:
    if not unknown:
        return []
    said = say_all("the frame" if name == FRAME else name for name in unknown)
    message = f"The weight of {said} is not recorded, so the board weighs more than the sum shown."
    return [Finding("M01", "unknown", unknown, message, "Weigh what is named.", "calculation")]


def _judge_lifting(board_g: int, more: bool) -> list[Finding]:
    band = lifting_band(board_g)
    if band is None:
        return []
    weight = f"{'at least ' if more else ''}{board_g / 1000:.2f} kg"
    message = f"The board weighs {weight} without its case, above {band.above_g // 1000} kg: {band.advice}."
    return [Finding(band.rule, band.severity, (FRAME,), message, LOCAL_RULES, band.basis)]
