"""What if things lay elsewhere: what that settles, what it brings, and what is then found about them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.utils.safestring import SafeString, mark_safe

from boardshop.boards.access import may_change
from boardshop.boards.drawing.found import list_marks
from boardshop.boards.drawing.live import draw_live_marks
from boardshop.boards.errors import NotOfThisBoard
from boardshop.boards.forms.places import read_spots, write_spot
from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.places import Spot
from boardshop.core.findings import Finding, apply_accepted
from boardshop.core.index import fold, split_end
from boardshop.core.layout import compute_layout
from boardshop.core.moves import list_brought, list_settled
from boardshop.core.numbering import number_pedals
from boardshop.core.plan import BoardPlan, Pedal, Place, Supply, SupplyPlace
from boardshop.crew.answers import render_part
from boardshop.crew.errors import Refusal
from boardshop.gear.templatetags.lengths import lengths_in


@dataclass(frozen=True)
class TriedThing:
    """One of the things that are tried elsewhere."""

    ref: str
    number: int | str
    name: str
    spot: Spot


@dataclass(frozen=True)
class TriedPlaces:
    """Things tried elsewhere on the plan, as the page and the fragment read it."""

    things: tuple[TriedThing, ...]
    about: tuple[Finding, ...]
    """What is then found about the things themselves, worst first."""
    settles: tuple[Finding, ...]
    brings: tuple[Finding, ...]
    marks: SafeString
    """The marks on the drawing as it would be, for an overlay whose origin is the frame's corner."""

    @property
    def written(self) -> str:
        return " ".join(write_spot(thing.spot) for thing in self.things)

    @property
    def rules_brought(self) -> list[str]:
        return _list_rules(self.brings)

    @property
    def rules_settled(self) -> list[str]:
        return _list_rules(self.settles)


def _list_rules(findings: Sequence[Finding]) -> list[str]:
    """`L03 (fault)`: each rule once, worst first."""
    return list(dict.fromkeys(f"{found.rule} ({found.severity})" for found in findings))


def draw_try_places(request: HttpRequest, board: Board, written: Sequence[str]) -> HttpResponse:
    """A page with the outcome, or the outcome alone for htmx; 422 for places that cannot be."""
    refusal, tried = "", None
    try:
        tried = try_places(load_plan(board), board, read_spots(" ".join(written).split()))
    except (Refusal, ValidationError) as refused:
        said = refused.messages[0] if isinstance(refused, ValidationError) else str(refused)
        refusal = lengths_in(said, board.shop)
    context: dict[str, Any] = {
        "board": board,
        "shop": board.shop,
        "tab": "layout",
        "may_edit": may_change(board),
        "tried": tried,
        "refusal": refusal,
    }
    return render_part(request, "boards/try_places.html", "tried", context, 422 if refusal else 200)


def try_places(plan: BoardPlan, board: Board, spots: Sequence[Spot]) -> TriedPlaces:
    """Only the layout is computed; raises NotOfThisBoard for a ref that the board has not."""
    moved = lay(plan, board.name, spots)
    before, after = _find(plan), _find(moved)
    refs = {fold(spot.ref) for spot in spots}
    about = [one for one in after if refs & {fold(split_end(subject)[0]) for subject in one.subjects}]
    return TriedPlaces(
        things=tuple(_list_things(plan, spots)),
        about=tuple(_say(board, one) for one in about if one.accepted is None),
        settles=list_settled(before, after),
        brings=list_brought(before, after),
        marks=mark_safe(draw_live_marks(moved, list_marks(moved, after))),  # noqa: S308 - escaped there
    )


def lay(plan: BoardPlan, board_name: str, spots: Sequence[Spot]) -> BoardPlan:
    """The plan with these things where their spots say, as the edit would store them."""
    wanted = {fold(spot.ref): spot for spot in spots}
    known = {fold(pedal.ref) for pedal in plan.pedals} | {fold(supply.ref) for supply in plan.supplies}
    if missing := wanted.keys() - known:
        raise NotOfThisBoard(thing=wanted[min(missing)].ref, board=board_name)
    return replace(
        plan,
        pedals=tuple([_lay_pedal(p, spot) if (spot := wanted.get(fold(p.ref))) else p for p in plan.pedals]),
        supplies=tuple(
            [_lay_supply(s, spot) if (spot := wanted.get(fold(s.ref))) else s for s in plan.supplies]
        ),
    )


def _lay_pedal(pedal: Pedal, spot: Spot) -> Pedal:
    if spot.x is None or spot.y is None:
        return replace(pedal, place=None)
    return replace(pedal, place=Place(spot.x, spot.y, spot.turn or 0))


def _lay_supply(supply: Supply, spot: Spot) -> Supply:
    if spot.x is None or spot.y is None:
        return replace(supply, place=None)
    is_under = bool(supply.place and supply.place.under) if spot.under is None else spot.under
    return replace(supply, place=SupplyPlace(spot.x, spot.y, spot.turn or 0, is_under))


def _find(plan: BoardPlan) -> tuple[Finding, ...]:
    return apply_accepted(plan, compute_layout(plan).findings)


def _list_things(plan: BoardPlan, spots: Sequence[Spot]) -> list[TriedThing]:
    numbers = number_pedals(plan)
    named = {
        fold(pedal.ref): (numbers.get(pedal.ref, pedal.ref), pedal.name or pedal.kind)
        for pedal in plan.pedals
    }
    named |= {fold(supply.ref): (supply.ref, supply.model or "") for supply in plan.supplies}
    return [TriedThing(spot.ref, *named[fold(spot.ref)], spot) for spot in spots]


def _say(board: Board, finding: Finding) -> Finding:
    """In the shop's unit, as everywhere."""
    return replace(
        finding, message=lengths_in(finding.message, board.shop), cure=lengths_in(finding.cure, board.shop)
    )
