"""The signal drawn as lanes, where it is more than one line."""

from __future__ import annotations

from collections.abc import Callable

from django.utils.safestring import SafeString, mark_safe

from boardshop.boards.drawing.lanes import draw_lanes
from boardshop.boards.sheet import BoardSheet
from boardshop.core.order.lanes import find_lanes


def draw_signal(sheet: BoardSheet, url: Callable[[str], str]) -> SafeString:
    """Blank for a plain line, which the strip shows as well; `url` gives the address of a pedal's row."""
    if len(find_lanes(sheet.plan).lanes) < 2:
        return SafeString()
    refs = {pedal.ref for pedal in sheet.plan.pedals}
    svg = draw_lanes(
        sheet.plan,
        sheet.numbers,
        wrong=sheet.order.moved,
        bypassed=[pedal.ref for pedal in sheet.plan.pedals if pedal.on is False],
        url=lambda ref: (url(ref) or None) if ref in refs else None,
    )
    return mark_safe(svg)  # noqa: S308 - draw_lanes escapes every text
