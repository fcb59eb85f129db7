"""The rows that an address names, on the board that the person was let in to; 404 for any other."""

from __future__ import annotations

from collections.abc import Sequence

from django.db.models import Model, QuerySet
from django.http import Http404

from boardshop.boards.models import (
    AcceptedFinding,
    Amp,
    Board,
    Computer,
    Item,
    LayoutSearch,
    LeadReading,
    Link,
    Placement,
    Scene,
    Source,
    SupplyPlacement,
    Variant,
)
from boardshop.core.findings import same_subjects


class RowGone(Http404):
    """This board has nothing of that name, or has it no more."""

    def __init__(self, board: Board) -> None:
        super().__init__()
        self.board = board


def _one[M: Model](board: Board, rows: QuerySet[M]) -> M:
    row = rows.first()
    if row is None:
        raise RowGone(board)
    return row


def get_pedal(board: Board, ref: str) -> Placement:
    """With its model and unit."""
    pedals = Placement.objects.select_related("model", "unit", "board")
    return _one(board, pedals.filter(board=board, ref__iexact=ref))


def get_supply(board: Board, ref: str) -> SupplyPlacement:
    return _one(board, SupplyPlacement.objects.select_related("model").filter(board=board, ref__iexact=ref))


def get_link(board: Board, ref: str) -> Link:
    links = Link.objects.select_related("from_item", "from_jack", "to_item", "to_jack")
    return _one(board, links.filter(board=board, ref__iexact=ref))


def get_accepted(board: Board, rule: str, subjects: Sequence[str]) -> AcceptedFinding:
    """The reason that keeps this finding; the subjects' order does not count."""
    for accepted in AcceptedFinding.objects.filter(board=board, rule=rule[:8]):
        if same_subjects(accepted.subjects, subjects):
            return accepted
    raise RowGone(board)


def get_variant(board: Board, pk: int) -> Variant:
    return _one(board, Variant.objects.filter(board=board, pk=pk))


def get_scene(board: Board, pk: int) -> Scene:
    return _one(board, Scene.objects.filter(board=board, pk=pk))


def get_reading(board: Board, pk: int) -> LeadReading:
    return _one(board, LeadReading.objects.filter(board=board, pk=pk))


def get_search(board: Board, pk: int) -> LayoutSearch:
    return _one(board, LayoutSearch.objects.filter(board=board, pk=pk))


def get_end(board: Board, ref: str) -> Source | Amp | Computer:
    """The instrument, amp or computer itself."""
    items = Item.objects.select_related("source", "amp", "computer").filter(board=board, ref__iexact=ref)
    item = _one(board, items)
    for kind in ("source", "amp", "computer"):
        if hasattr(item, kind):
            end: Source | Amp | Computer = getattr(item, kind)
            return end
    raise Http404
