"""The place number of a pedal: its row as the foot finds it and where it stands in it, `F2`.

It is another number than the balloon's, which counts along the signal: moving a pedal in the order changes
the one and leaves the other.  Common practice.
"""

from dataclasses import dataclass

from boardshop.core.layout.geometry import Box, body_box
from boardshop.core.plan import BoardPlan

FRONT, MIDDLE, REAR = "F", "M", "R"


@dataclass(frozen=True, slots=True)
class Row:
    """``name`` is F, M (M1-, M2- ... where several stand between) or R; the only row is F."""

    name: str
    refs: tuple[str, ...]


def number_places(plan: BoardPlan) -> dict[str, str]:
    """Ref -> `F1`, `F2` ... of the front row, left to right in the player's view; `R` is the rearmost row.

    Between them stands `M`, or `M1-`, `M2-` ... where several do.  A pedal that is not placed has no number.
    """
    return {
        ref: f"{row.name}{number}" for row in list_rows(plan) for number, ref in enumerate(row.refs, start=1)
    }


def list_rows(plan: BoardPlan) -> tuple[Row, ...]:
    """Front to rear, each from left to right; only placed pedals stand in one."""
    rows = group_rows({pedal.ref: box for pedal in plan.pedals if (box := body_box(pedal)) is not None})
    return tuple(Row(_row_name(number, len(rows)), tuple(refs)) for number, refs in enumerate(rows))


def group_rows(boxes: dict[str, Box]) -> list[list[str]]:
    """Front to rear; a row ends where a pedal begins behind the rear edge of the shallowest in it."""
    rows: list[list[str]] = []
    rear = 0
    for ref, box in sorted(boxes.items(), key=lambda each: (each[1].y0, each[1].y1, each[1].x0, each[0])):
        if not rows or box.y0 >= rear:
            rows.append([])
            rear = box.y1
        rear = min(rear, box.y1)
        rows[-1].append(ref)
    return [sorted(row, key=lambda ref: (boxes[ref].x0, boxes[ref].y0, ref)) for row in rows]


def _row_name(row: int, count: int) -> str:
    if row == 0:
        return FRONT
    if row == count - 1:
        return REAR
    return MIDDLE if count == 3 else f"{MIDDLE}{row}-"
