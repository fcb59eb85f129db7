"""Cutting for several boards at once, and why a piece is short of stock."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from boardshop.core.cables.cut_plan import REPORT_SECONDS, CutPlan, UsedLength, plan_cuts
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan, CableType, Frame, Piece, Rules, StockLength


@dataclass(frozen=True, slots=True)
class ShortPiece:
    """A piece for which no length is left.

    ``reason`` is `no stock`, `too long` for the longest length in hand (``longest_mm``, after its trim), or
    `used up` by other pieces.
    """

    ref: str
    cable: str
    cut_mm: int
    reason: str
    longest_mm: int | None = None


def plan_pieces(
    pieces: Sequence[Piece],
    stock: Sequence[StockLength],
    rules: Rules,
    seconds: float = REPORT_SECONDS,
) -> CutPlan:
    """The cut plan of pieces that belong to no one board; as `plan_cuts` in every other way."""
    refs = dict.fromkeys(piece.cable for piece in pieces)
    cables = tuple(CableType(ref) for ref in refs)
    plan = BoardPlan(Frame(1, 1), cables=cables, pieces=tuple(pieces), stock=tuple(stock), rules=rules)
    return plan_cuts(plan, seconds)


def join_rules(several: Iterable[Rules]) -> Rules:
    """Rules for the saw that promise no board more than its own: the largest kerf, trim and keep of all."""
    each = list(several) or [Rules()]
    return replace(
        each[0],
        kerf_mm=max(rules.kerf_mm for rules in each),
        trim_mm=max(rules.trim_mm for rules in each),
        keep_offcut_mm=max(rules.keep_offcut_mm for rules in each),
    )


def tell_short(
    pieces: Iterable[Piece], stock: Sequence[StockLength], rules: Rules, plan: CutPlan
) -> tuple[ShortPiece, ...]:
    """The pieces that the plan does not make, each with the reason."""
    short = set(plan.short)
    return tuple(_tell(piece, stock, rules) for piece in pieces if (piece.ref, piece.cut_mm) in short)


def kept_mm(used: UsedLength, rules: Rules) -> int:
    """What is kept of a length as an off-cut; 0 where the remainder is waste."""
    return used.left_mm if used.left_mm >= rules.keep_offcut_mm else 0


def wasted_mm(used: UsedLength, rules: Rules) -> int:
    """Trim, kerfs, and a remainder too short to keep: all that is neither made nor kept."""
    return used.length - sum(mm for _, mm in used.pieces) - kept_mm(used, rules)


def _tell(piece: Piece, stock: Sequence[StockLength], rules: Rules) -> ShortPiece:
    usable = [
        one.length - (rules.trim_mm if one.kind == "offcut" else 0)
        for one in stock
        if fold(one.cable) == fold(piece.cable)
    ]
    longest = max(usable, default=None)
    if longest is None:
        return ShortPiece(piece.ref, piece.cable, piece.cut_mm, "no stock")
    reason = "too long" if longest < piece.cut_mm else "used up"
    return ShortPiece(piece.ref, piece.cable, piece.cut_mm, reason, max(0, longest))
