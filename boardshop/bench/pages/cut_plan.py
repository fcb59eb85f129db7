"""What the pages of a cut plan show: pieces, lengths drawn to scale, the proof in words, the cost."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from boardshop.bench.cut_work import FURTHER, CutWork, Taken, Wanted
from boardshop.bench.models import CutJob, CutLength
from boardshop.boards.drawing.cut_lengths import DrawnLength, draw_lengths
from boardshop.boards.pages.cable_words import KIND_WORDS, PlugLine, join_alike, strip_words
from boardshop.core.cables.cut_work import ShortPiece
from boardshop.core.cables.strip import LAYER_MM, SOLDERED, strip_for
from boardshop.core.lengths import show_length
from boardshop.core.plan import PlugType

type PlugOrNone = PlugType | None


@dataclass(frozen=True)
class PieceLine:
    """A piece as the saw's list has it."""

    piece: Wanted
    name: str
    what: str
    labels: tuple[str, ...]
    plugs: tuple[PlugLine, ...]


@dataclass(frozen=True)
class ShortLine:
    piece: Wanted
    name: str
    why: str


@dataclass(frozen=True)
class TakenLine:
    """One length with its pieces; `fate` says what becomes of the rest."""

    taken: Taken
    lines: tuple[PieceLine, ...]


def describe_work(work: CutWork) -> dict[str, Any]:
    """What every page of a plan that is not booked yet shows."""
    return {
        "work": work,
        "taken": [TakenLine(one, tuple(_piece_line(work, p) for p in one.pieces)) for one in work.taken],
        "short": [
            ShortLine(piece, work.name_of(piece), _say_short(work, short)) for piece, short in work.short
        ],
        "proof": say_proof(work.plan.optimal, work.plan.bound, work.reels, bool(work.plan.used)),
        "drawing": _draw(work),
        "material": _material(work),
        "has_soldered": any(
            strip_for(plug).way == "soldered" for piece in work.wanted for plug in piece.plugs if plug
        ),
        "soldered": SOLDERED,
        "layer_mm": LAYER_MM,
    }


def say_proof(optimal: bool, bound: int, reels: int, is_any: bool) -> str:
    """What is known of a plan: proved best, or how far it may be from that."""
    if not is_any:
        return ""
    if optimal:
        return _(
            "Proved: no plan makes more of the length that is wanted, opens fewer reels, then draws less "
            "from them, wastes less, and keeps a longer off-cut."
        )
    least = ngettext("at least %(n)d reel", "at least %(n)d reels", bound) % {"n": bound}
    opened = ngettext("this one opens %(n)d", "this one opens %(n)d", reels) % {"n": reels}
    return _("Not proved best: every plan opens %(least)s, %(opened)s; the rest may be better still.") % {
        "least": least,
        "opened": opened,
    }


def draw_job(job: CutJob, unit: str) -> SafeString:
    """The lengths of a booked job."""
    lengths = [_drawn_record(job, one) for one in job.lengths.all()]
    return mark_safe(draw_lengths(lengths, unit, "job-lengths"))  # noqa: S308 - draw_lengths escapes


def _drawn_record(job: CutJob, one: CutLength) -> DrawnLength:
    pieces = tuple((str(piece), piece.cut_mm) for piece in one.pieces.all())
    trim = job.trim_mm if one.kind == "offcut" else 0
    return DrawnLength(
        one.tag or one.cable_name, one.kind, one.length, trim, pieces, job.kerf_mm, one.kept_mm
    )


def _draw(work: CutWork) -> SafeString:
    lengths = [
        DrawnLength(
            name=one.stock.tag or one.stock.cable.name,
            kind=one.used.kind,
            length=one.used.length,
            trim=work.rules.trim_mm if one.used.kind == "offcut" else 0,
            pieces=tuple((work.name_of(piece), piece.cut_mm) for piece in one.pieces),
            kerf=work.rules.kerf_mm,
            kept=one.kept_mm,
        )
        for one in work.taken
    ]
    return mark_safe(draw_lengths(lengths, work.shop.length_unit))  # noqa: S308 - draw_lengths escapes


def _piece_line(work: CutWork, piece: Wanted) -> PieceLine:
    is_cable = piece.what != FURTHER
    plugs = [PlugLine(_plug_name(plug), strip_words(strip_for(plug))) for plug in piece.plugs]
    return PieceLine(
        piece=piece,
        name=work.name_of(piece),
        what=str(KIND_WORDS[piece.what]),
        labels=piece.labels if is_cable else (),
        plugs=join_alike(plugs) if is_cable else (),
    )


def _plug_name(plug: PlugOrNone) -> str:
    return plug.name or plug.ref if plug is not None else _("no plug chosen")


def _say_short(work: CutWork, short: ShortPiece) -> str:
    unit = work.shop.length_unit
    longest = show_length(short.longest_mm or 0, unit)
    return {
        "no stock": _("none of this cable is in stock: add what is on the shelf, or buy a reel"),
        "too long": _("longer than any length in stock, which yields %(longest)s: buy a longer one")
        % {"longest": longest},
        "used up": _("the stock is used up by the other pieces: buy more of it, or cut fewer"),
    }[short.reason]


@dataclass(frozen=True)
class Material:
    """The cable in the pieces of a plan by price; `unpriced` names cables without one."""

    price: Decimal
    unpriced: tuple[str, ...]


def _material(work: CutWork) -> Material:
    total, unpriced = Decimal(0), list[str]()
    for piece in work.wanted:
        if piece.cable.price is None:
            unpriced.append(piece.cable.name)
        else:
            total += piece.cable.price * piece.cut_mm / 1000
    return Material(total.quantize(Decimal("0.01")), tuple(dict.fromkeys(unpriced)))
