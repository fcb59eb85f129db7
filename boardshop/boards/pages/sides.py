"""States of one board beside each other: the working copy, its variants and its released revisions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from django.http import Http404
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from boardshop.boards.access import get_revision
from boardshop.boards.errors import GearGone
from boardshop.boards.history.applying import check_state
from boardshop.boards.history.moment import plan_of_state
from boardshop.boards.models import Board, Variant
from boardshop.boards.services.revisions import plan_of
from boardshop.boards.sheet import BoardSheet
from boardshop.core.lengths import show_length

WORKING = "working"
REVISION, VARIANT = "r", "v"
"""First letter of a side's key; the revision's number or the variant's key comes after it."""


@dataclass(frozen=True)
class Side:
    """One state: its key in addresses, its name, and what is computed of it; None where its gear is gone.

    `heading` is the name where it stands by itself: our own words begin with a capital there, the name that a
    person gave a variant stands as typed.
    """

    key: str
    name: str
    sheet: BoardSheet | None
    heading: str


@dataclass(frozen=True)
class Row:
    """One figure of every side."""

    label: str
    cells: tuple[str, ...]

    @property
    def differs(self) -> bool:
        return len(set(self.cells)) > 1


def name_sides(board: Board) -> list[tuple[str, str]]:
    """The keys and names of all that can be compared, newest revision first; two queries."""
    current = board.variant.name if board.variant else ""
    working = _("working copy (%(variant)s)") % {"variant": current} if current else _("working copy")
    kept = board.variants.filter(state__isnull=False).values_list("pk", "name")
    numbers = board.revisions.values_list("number", flat=True)
    return [
        (WORKING, working),
        *((f"{VARIANT}{pk}", _("variant %(name)s") % {"name": name}) for pk, name in kept),
        *((f"{REVISION}{number}", _("revision %(number)d") % {"number": number}) for number in numbers),
    ]


def read_side(board: Board, key: str, names: Sequence[tuple[str, str]]) -> Side:
    """404 for a key that names nothing of this board."""
    name = dict(names).get(key)
    if name is None:
        raise Http404
    if key == WORKING:
        return Side(key, name, BoardSheet(board), capfirst(name))
    if key.startswith(REVISION):
        revision = get_revision(board, key[1:])
        return Side(key, name, BoardSheet(board, plan_of(revision), revision), capfirst(name))
    return Side(key, name, _sheet_of(board, board.variants.get(pk=int(key[1:]))), capfirst(name))


def read_variants(board: Board) -> list[tuple[Variant, Side]]:
    """Every variant with what is computed of it, the current one from the working copy."""
    return [
        (variant, Side(f"{VARIANT}{variant.pk}", variant.name, _sheet_of(board, variant), variant.name))
        for variant in board.variants.all()
    ]


def _sheet_of(board: Board, variant: Variant) -> BoardSheet | None:
    if variant.state is None:
        return BoardSheet(board)
    try:
        check_state(variant.state)
    except GearGone:
        return None
    return BoardSheet(board, plan_of_state(board, variant.state))


def list_sums(sides: Sequence[Side]) -> list[Row]:
    """What order, tone, cables and power come to on each side."""
    figures: dict[str, Callable[[BoardSheet], str]] = {
        _("Findings"): _say_findings,
        _("Moves to the usual order"): lambda sheet: str(sheet.order.moves),
        _("Findings on order"): lambda sheet: str(_open(sheet.order.findings)),
        _("Cable to cut"): _say_cut,
        _("At 5 kHz, pedals as used"): _say_treble,
        _("Resonance, pedals as used"): _say_resonance,
        _("Fullest outlet"): _say_fullest,
        _("Not fed"): lambda sheet: ", ".join(sheet.power.unfed) or _("none"),
        _("Ground loops"): lambda sheet: str(sheet.grounds.loops),
    }
    gone = _("cannot be computed: gear is gone")
    sheets = [one.sheet for one in sides]
    return [
        Row(label, tuple(gone if sheet is None else say(sheet) for sheet in sheets))
        for label, say in figures.items()
    ]


def _open(findings: Sequence[Any]) -> int:
    return sum(1 for finding in findings if finding.accepted is None)


def _say_findings(sheet: BoardSheet) -> str:
    return ", ".join(f"{n} {severity}" for severity, n in sheet.counts.items() if n) or _("none open")


def _say_cut(sheet: BoardSheet) -> str:
    total = show_length(sheet.cables.cut_total_mm, sheet.board.shop.length_unit)
    unknown = sheet.unknown_cuts
    words = ngettext("%(n)d length not known", "%(n)d lengths not known", unknown) % {"n": unknown}
    return f"{total}, {words}" if unknown else total


def _say_treble(sheet: BoardSheet) -> str:
    """Of the first instrument; the loss at one frequency is no measure of a sound."""
    state = sheet.tone.sources[0].as_used if sheet.tone.sources else None
    at = state.db_at if state else None
    return f"{at['5000']:+.1f} dB" if at else _("unknown")


def _say_resonance(sheet: BoardSheet) -> str:
    state = sheet.tone.sources[0].as_used if sheet.tone.sources else None
    if state is None:
        return _("unknown")
    return _("none") if state.resonance_hz is None else f"{state.resonance_hz / 1000:.2f} kHz"


def _say_fullest(sheet: BoardSheet) -> str:
    known = [row for row in sheet.power.outlets if row.load_percent is not None]
    if not known:
        return _("unknown")
    row = max(known, key=lambda row: row.load_percent or 0)
    return f"{row.ref}, {row.load_percent:g} %"
