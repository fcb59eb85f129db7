"""How far two things of the board are apart: a page with a form, and the outcome alone for a script."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from boardshop.boards.drawing import draw_board, draw_underside
from boardshop.boards.drawing.board import lay_out_board
from boardshop.boards.drawing.measured import Over, draw_measured, overlay
from boardshop.boards.drawing.underside import lay_out_underside
from boardshop.boards.models import Board
from boardshop.boards.pages.drawn_views import TOP, UNDERSIDE, safe_drawing
from boardshop.boards.plan.read import load_plan
from boardshop.core.cables import measure_runs
from boardshop.core.index import fold
from boardshop.core.layout.measuring import (
    EDGES,
    Distance,
    NeedsEdge,
    Thing,
    UnknownThing,
    list_things,
    measure_between,
)
from boardshop.core.lengths import show_length
from boardshop.core.plan import BoardPlan
from boardshop.crew.answers import render_part


@dataclass(frozen=True)
class Ends:
    """The two things that are asked about, by name, each perhaps with one of its edges."""

    one: str
    other: str

    @property
    def is_whole(self) -> bool:
        return bool(self.one and self.other)


@dataclass(frozen=True)
class Measured:
    """A distance in words, in the shop's unit; `overlap` instead where the two lie over one another."""

    one: str
    other: str
    x: str
    y: str
    least: str
    overlap: str

    @property
    def said(self) -> str:
        """The whole of it as one sentence, to be read out."""
        ends = {"one": self.one, "other": self.other}
        if self.overlap:
            return _("%(one)s and %(other)s overlap by %(overlap)s.") % {**ends, "overlap": self.overlap}
        figures = {"x": self.x, "y": self.y, "least": self.least}
        return _("From %(one)s to %(other)s: %(x)s in x, %(y)s in y, %(least)s straight.") % {
            **ends,
            **figures,
        }


def draw_measuring(request: HttpRequest, board: Board) -> HttpResponse:
    """The page with both things on the drawing; 422 for a name that nothing on the board has."""
    plan, unit = load_plan(board), board.shop.length_unit
    view = UNDERSIDE if request.GET.get("view") == UNDERSIDE else TOP
    ends = Ends(_read_end(request, "from"), _read_end(request, "to"))
    distance, refusal = _measure(plan, ends)
    over = partial(draw_measured, distance) if distance else None
    context = {
        "board": board,
        "shop": board.shop,
        "tab": "layout",
        "view": view,
        **_describe_form(plan, ends),
        "refusal": refusal,
        "measured": describe(distance, list_things(plan), ends, unit) if distance else None,
        "overlay": _draw_over(plan, view, unit, over) if over else "",
        "drawing": _draw(plan, board, view, ends, over),
    }
    return render_part(request, "boards/measure_layout.html", "outcome", context, 422 if refusal else 200)


def _measure(plan: BoardPlan, ends: Ends) -> tuple[Distance | None, str]:
    """The distance where both ends are asked for, or why there is none."""
    if not ends.is_whole:
        return None, ""
    try:
        return measure_between(plan, ends.one, ends.other), ""
    except NeedsEdge:
        return None, _("Choose one of the frame’s edges: everything lies inside the frame.")
    except UnknownThing as unknown:
        said = _("Nothing that can be measured is called “%(name)s” on this board.")
        return None, said % {"name": unknown.name}


def _describe_form(plan: BoardPlan, ends: Ends) -> dict[str, Any]:
    return {
        "things": list_things(plan),
        "edges": [(edge, _edge_words(edge)) for edge in EDGES],
        "ends": [_split(ends.one), _split(ends.other)],
    }


def describe(distance: Distance, things: Sequence[Thing], ends: Ends, unit: str) -> Measured:
    """A distance as the page and the fragment read it."""
    over = ""
    if distance.overlap:
        over = _("%(x)s in x and %(y)s in y") % {
            "x": show_length(-distance.x, unit),
            "y": show_length(-distance.y, unit),
        }
    return Measured(
        one=_name(things, ends.one),
        other=_name(things, ends.other),
        x=show_length(max(distance.x, 0), unit),
        y=show_length(max(distance.y, 0), unit),
        least=_show_tenths(distance.least_tenths, unit),
        overlap=over,
    )


def _show_tenths(tenths: int, unit: str) -> str:
    """Whole mm as all lengths are shown; in inches as near as those."""
    whole, rest = divmod(tenths, 10)
    if rest == 0 or unit != "mm":
        return show_length(whole, unit)
    return f"{Decimal(tenths).scaleb(-1)} mm"


def _read_end(request: HttpRequest, key: str) -> str:
    """`from=P3:left`, or `from=P3` and `from_edge=left` as the form sends it."""
    name, edge = request.GET.get(key, "")[:80].strip(), request.GET.get(f"{key}_edge", "")[:10].strip()
    return f"{name}:{edge}" if name and edge and ":" not in name else name


def _split(name: str) -> dict[str, str]:
    thing, _colon, edge = name.partition(":")
    return {"name": thing, "edge": edge}


def _name(things: Sequence[Thing], name: str) -> str:
    thing, _colon, edge = name.partition(":")
    label = next(one.label for one in things if fold(one.name) == fold(thing.strip()))
    return _("the %(edge)s of %(thing)s") % {"edge": _edge_words(edge), "thing": label} if edge else label


def _edge_words(edge: str) -> str:
    return {
        "left": _("left edge"),
        "right": _("right edge"),
        "front": _("front edge"),
        "rear": _("rear edge"),
    }[edge]


def _draw(plan: BoardPlan, board: Board, view: str, ends: Ends, over: Over | None) -> SafeString:
    """Each body leads to the next question: from it, then to it."""
    address = reverse("measure-layout", args=[board.code])

    def url(ref: str) -> str:
        chosen = {"from": ends.one, "to": ref} if ends.one and not ends.other else {"from": ref}
        return f"{address}?{urlencode({**chosen, 'view': view})}"

    places = {pedal.ref for pedal in plan.pedals} | {supply.ref for supply in plan.supplies}
    draw = draw_underside if view == UNDERSIDE else partial(draw_board, details=True)
    svg = draw(
        plan,
        runs=measure_runs(plan),
        url=lambda ref: url(ref) if ref in places else None,
        length_unit=board.shop.length_unit,
        name="measure-drawing",
        over=over,
    )
    return safe_drawing(svg)


def _draw_over(plan: BoardPlan, view: str, unit: str, over: Over) -> SafeString:
    runs = measure_runs(plan)
    if view == UNDERSIDE:
        return safe_drawing(overlay(lay_out_underside(plan, runs, length_unit=unit), over))
    return safe_drawing(overlay(lay_out_board(plan, runs, length_unit=unit, details=True), over))
