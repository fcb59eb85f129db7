"""An instrument's responses as a page and a paper show them: drawn, with their key, and as values."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from boardshop.boards.drawing.response import LabelledCurve, draw_key, draw_response, pick_pens
from boardshop.boards.pages.tone_words import say_curve, say_db
from boardshop.core.tone.comparing import (
    NO_CABLE,
    NOW,
    OF_STATES,
    REFERENCE,
    REFERENCE_PF,
    TABLE_HZ,
    THEN,
    DrawnCurve,
    ResponsePlot,
)


@dataclass(frozen=True)
class KeyLine:
    label: str
    sample: SafeString
    words: str


@dataclass(frozen=True)
class Response:
    """The curves of one instrument: drawn, named, and as values."""

    drawing: SafeString
    keys: tuple[KeyLine, ...]
    heads: tuple[str, ...]
    values: tuple[tuple[int, tuple[str, ...]], ...]


def draw_plot(
    plot: ResponsePlot, *, title: str, name: str, peaks: Sequence[tuple[float, float]] = ()
) -> Response:
    """The plot as a drawing with its key, its values beside it."""
    curves = label_curves(plot.curves)
    words = "; ".join(f"{curve.label}, {curve.words}" for curve in curves)
    svg = draw_response(plot.drawn_hz, curves, title=title, words=words, name=name, marked=peaks)
    keys = tuple(
        KeyLine(curve.label, mark_safe(draw_key(pen, curve.label)), curve.words)  # noqa: S308 - escaped there
        for curve, pen in zip(curves, pick_pens(curves), strict=True)
    )
    return Response(
        drawing=mark_safe(svg),  # noqa: S308 - draw_response escapes every text
        keys=keys,
        heads=tuple(curve.label for curve in curves),
        values=tuple(
            (hz, tuple(say_db(curve.values[at]) for curve in plot.curves)) for at, hz in enumerate(TABLE_HZ)
        ),
    )


def label_curves(curves: Sequence[DrawnCurve]) -> list[LabelledCurve]:
    """States by letters, what they are held against by its name, and a change by now and then."""
    names = {NO_CABLE: _("no cable"), REFERENCE: f"{REFERENCE_PF} pF", NOW: _("now"), THEN: _("then")}
    labelled, letters = [], 0
    for curve in curves:
        label = names.get(curve.kind) or _letter(letters)
        letters += curve.kind == OF_STATES
        is_aside = curve.kind in (NO_CABLE, REFERENCE)
        labelled.append(LabelledCurve(label, say_curve(curve), curve.db, is_aside))
    return labelled


def _letter(number: int) -> str:
    """A to Z, then AA."""
    return chr(65 + number) if number < 26 else f"A{_letter(number - 26)}"
