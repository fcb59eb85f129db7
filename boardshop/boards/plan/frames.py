"""A frame's row and the core's frame, both ways."""

from collections.abc import Mapping
from typing import Any

from boardshop.boards.plan.stored import Row
from boardshop.core import plan as core
from boardshop.gear.models import FrameShape
from boardshop.gear.sheets import as_float

type Columns = dict[str, Any]


def frame_value(frame: FrameShape | Row) -> core.Frame:
    """The frame as the core reads it; what nobody recorded stays None."""
    return core.Frame(
        width=frame.width,
        depth=frame.depth,
        surface=frame.surface,
        rails=tuple(core.Rail(band["from"], band["to"]) for band in frame.rails),
        tiers=tuple(core.Tier(band["from"], band["to"], band.get("height", 0)) for band in frame.tiers),
        under=_under(frame),
        lid=frame.lid,
        keepouts=tuple(_keepout(row) for row in frame.keepouts),
        entry=_point(frame.entry_x, frame.entry_y),
        exit=_point(frame.exit_x, frame.exit_y),
        weight=frame.weight,
        plate_thickness=frame.plate_thickness,
        members=tuple(
            core.Member(row["x"], row["y"], row["width"], row["depth"], row.get("why", ""))
            for row in frame.members
        ),
    )


def frame_columns(frame: core.Frame) -> Columns:
    """The columns of a frame's row that hold this frame."""
    return {
        "width": frame.width,
        "depth": frame.depth,
        "surface": frame.surface,
        "rails": [{"from": rail.from_y, "to": rail.to_y} for rail in frame.rails],
        "tiers": [{"from": t.from_y, "to": t.to_y, "height": t.height} for t in frame.tiers],
        "keepouts": [
            {"x": k.x, "y": k.y, "width": k.width, "depth": k.depth, "why": k.why} for k in frame.keepouts
        ],
        "under_front": frame.under.front if frame.under else None,
        "under_rear": frame.under.rear if frame.under else None,
        "lid": frame.lid,
        "entry_x": frame.entry.x if frame.entry else None,
        "entry_y": frame.entry.y if frame.entry else None,
        "exit_x": frame.exit.x if frame.exit else None,
        "exit_y": frame.exit.y if frame.exit else None,
        "weight": frame.weight,
        "plate_thickness": frame.plate_thickness,
        "members": [
            {"x": m.x, "y": m.y, "width": m.width, "depth": m.depth, "why": m.why} for m in frame.members
        ],
    }


def _keepout(row: Mapping[str, Any]) -> core.Keepout:
    return core.Keepout(row["x"], row["y"], row["width"], row["depth"], row.get("why", ""))


def _under(frame: FrameShape | Row) -> core.Under | None:
    front, rear = as_float(frame.under_front), as_float(frame.under_rear)
    return None if front is None or rear is None else core.Under(front, rear)


def _point(x: int | None, y: int | None) -> core.Point | None:
    return None if x is None or y is None else core.Point(x, y)
