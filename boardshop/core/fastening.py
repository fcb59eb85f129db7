"""What holds each pedal on the frame: the area of hook-and-loop by its weight, a stop, and its screws.

Common practice: 1 N/cm2 against ten times the pedal's weight, on at least half of its base, and a mechanical
stop beside it where more than that is wanted and for every treadle.  A bottom screw that holds a tab or the
frame's plate may be longer than the original by the plate's thickness and no more: behind it is the circuit.
"""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from boardshop.core.plan import BoardPlan, Pedal

NEWTON_PER_GRAM = Fraction(980665, 100_000_000)
"""Standard gravity, 9.80665 m/s2 (CGPM 1901)."""

SHOCK_TIMES = 10
HOLD_NEWTON_PER_CM2 = 1
LEAST_COVER_PERCENT = 50
"""Common practice, all three."""


@dataclass(frozen=True, slots=True)
class Fastening:
    """One pedal's hold; None where the weight, the screw or the plate is not recorded.

    ``needed_cm2`` is what its weight asks for, ``cover_cm2`` what to stick: that, or half the base where that
    is more.
    """

    ref: str
    base_cm2: int
    needed_cm2: int | None
    cover_cm2: int | None
    cover_percent: int | None
    does_fit: bool | None
    wants_stop: bool | None
    longest_screw_mm: int | None
    lacks: tuple[str, ...]


def list_fastenings(plan: BoardPlan) -> tuple[Fastening, ...]:
    """Every pedal of the board in the plan's order, placed or not."""
    return tuple(judge_fastening(pedal, plan.frame.plate_thickness) for pedal in plan.pedals)


def judge_fastening(pedal: Pedal, plate_thickness: int | None) -> Fastening:
    base, half = Fraction(pedal.width * pedal.depth, 100), Fraction(LEAST_COVER_PERCENT, 100)
    needed = None if pedal.weight is None else area_for(pedal.weight)
    cover = None if needed is None else max(needed, base * half)
    screw = pedal.screw_length
    facts = {"weight": pedal.weight, "bottom screws": screw, "thickness of the plate": plate_thickness}
    return Fastening(
        ref=pedal.ref,
        base_cm2=_whole(base),
        needed_cm2=None if needed is None else _whole(needed),
        cover_cm2=None if cover is None else _whole(cover),
        cover_percent=None if cover is None else ceil(100 * cover / base),
        does_fit=None if needed is None else needed <= base,
        wants_stop=_wants_stop(pedal, needed, base * half),
        longest_screw_mm=None if screw is None or plate_thickness is None else screw + plate_thickness,
        lacks=tuple(name for name, value in facts.items() if value is None),
    )


def area_for(weight_g: int) -> Fraction:
    """cm2 of hook-and-loop that hold this weight; exact."""
    return weight_g * NEWTON_PER_GRAM * SHOCK_TIMES / HOLD_NEWTON_PER_CM2


def _wants_stop(pedal: Pedal, needed: Fraction | None, half: Fraction) -> bool | None:
    if pedal.treadle:
        return True
    return None if needed is None else needed > half


def _whole(value: Fraction) -> int:
    """Rounded half up."""
    return int(value + Fraction(1, 2))
