"""What there is to cut for some boards, from which row of the stock, and what is left out and why."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from django.utils.translation import gettext as _

from boardshop.bench.models import CutPiece
from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.core.cables.cut_list import ListedCable, list_cables
from boardshop.core.cables.cut_plan import REPORT_SECONDS, CutPlan, UsedLength
from boardshop.core.cables.cut_work import (
    ShortPiece,
    join_rules,
    kept_mm,
    plan_pieces,
    tell_short,
    wasted_mm,
)
from boardshop.core.index import fold, index_plan
from boardshop.core.lengths import show_length
from boardshop.core.naming import say_all
from boardshop.core.plan import BoardPlan, Piece, PlugType, Rules, StockLength
from boardshop.crew.models import Shop
from boardshop.gear.models import CableStock, CableType

FURTHER = "piece"
"""What a piece is that is no link of a board."""
MOST_BOARDS = 12
"""So many boards are planned at once; each costs one query and its runs."""
MOST_PIECES = 600
"""So many pieces go into one plan."""


@dataclass(frozen=True)
class Asked:
    """Boards, pieces beside them, and the keys of those that are to be cut again."""

    boards: Sequence[Board]
    further: Sequence[FurtherPiece] = ()
    again: frozenset[str] = frozenset()


@dataclass(frozen=True)
class FurtherPiece:
    """So many equal pieces that belong to no board."""

    cable: str
    length: int
    count: int = 1
    name: str = ""


@dataclass(frozen=True)
class Wanted:
    """One piece to cut; `key` tells it from all others of the plan, as `7K3MA W3`."""

    key: str
    ref: str
    cable: CableType
    cut_mm: int
    what: str = FURTHER
    board: Board | None = None
    plugs: tuple[PlugType | None, PlugType | None] = (None, None)
    labels: tuple[str, str] = ("", "")
    is_again: bool = False
    """It was cut before, in a job that stands."""


@dataclass(frozen=True)
class LeftOut:
    """A cable of a board that is not cut now; `job` is the number of the job that cut it."""

    key: str
    board: Board
    ref: str
    why: str
    job: int | None = None
    job_key: int | None = None
    is_too_short: bool = False
    """It was cut, and the run wants more by now."""
    still_fits: bool = False
    """Whether what was cut is long enough for what is wanted now."""


@dataclass(frozen=True)
class Taken:
    """One length out of a row of the stock, and what becomes of it."""

    stock: CableStock
    used: UsedLength
    pieces: tuple[Wanted, ...]
    kept_mm: int
    waste_mm: int


@dataclass(frozen=True)
class CutWork:
    """The plan with everything that a page shows and a booking writes."""

    shop: Shop
    wanted: tuple[Wanted, ...]
    left_out: tuple[LeftOut, ...]
    stock: tuple[CableStock, ...]
    rules: Rules
    plan: CutPlan
    taken: tuple[Taken, ...]
    short: tuple[tuple[Wanted, ShortPiece], ...]
    rules_differ: bool = False
    dropped: int = 0
    """Pieces beyond MOST_PIECES, which are not planned."""
    by_key: dict[str, Wanted] = field(default_factory=dict)

    @property
    def is_of_one_board(self) -> bool:
        """Then refs alone tell the pieces apart."""
        return len({piece.board for piece in self.wanted}) == 1 and self.wanted[0].board is not None

    def name_of(self, piece: Wanted) -> str:
        return piece.ref if self.is_of_one_board else piece.key

    @property
    def has_jobs(self) -> bool:
        """Whether something was cut before and can be cut again."""
        return any(one.job is not None for one in self.left_out)

    @property
    def reels(self) -> int:
        return sum(one.used.kind == "reel" for one in self.taken)

    @property
    def kept_mm(self) -> int:
        return sum(one.kept_mm for one in self.taken)

    @property
    def made_mm(self) -> int:
        return sum(piece.cut_mm for one in self.taken for piece in one.pieces)

    @property
    def seen(self) -> str:
        """What the plan rests on, for a form to carry: pieces, stock, and the rules of the saw."""
        pieces = {piece.key: [piece.cut_mm, piece.cable.name] for piece in self.wanted}
        stock = {str(row.pk): [row.length, row.count, row.kind, _called(row)] for row in self.stock}
        saw = [self.rules.kerf_mm, self.rules.trim_mm, self.rules.keep_offcut_mm]
        return json.dumps({"pieces": pieces, "stock": stock, "saw": saw}, sort_keys=True)


def gather_cuts(
    shop: Shop, asked: Asked, seconds: float = REPORT_SECONDS, plans: Sequence[BoardPlan] | None = None
) -> CutWork:
    """The plan for these boards and pieces: a query for each board, and three for all of them.

    ``plans`` are those of the boards where they are read already.
    """
    read = [load_plan(board) for board in asked.boards] if plans is None else plans
    of_boards = list(zip(asked.boards, read, strict=True))
    names = {cable.name for _board, plan in of_boards for cable in plan.cables}
    names |= {further.cable for further in asked.further}
    cables = {cable.name: cable for cable in CableType.objects.filter(shop=shop, name__in=names)}
    booked = _booked(asked.boards)
    wanted: list[Wanted] = []
    left_out: list[LeftOut] = []
    for board, plan in of_boards:
        found, others = _of_board(board, plan, cables, booked, asked.again)
        wanted, left_out = wanted + found, left_out + others
    wanted += _further(asked.further, cables)
    rows = CableStock.objects.filter(shop=shop, cable__in={piece.cable.pk for piece in wanted})
    stock = list(rows.select_related("cable").order_by("cable__name", "kind", "length", "pk"))
    return _plan(shop, wanted, left_out, stock, [plan.rules for plan in read], seconds)


def tell_changes(seen: str, work: CutWork) -> list[str]:
    """In sentences what differs from what a form was shown; nothing where the plan rests on the same."""
    then, now = _read_seen(seen), json.loads(work.seen)
    unit = work.shop.length_unit
    said = [*_differing_pieces(then["pieces"], now["pieces"], unit)]
    said += _differing_stock(then["stock"], now["stock"], unit)
    return said + ([] if then["saw"] == now["saw"] else [_("kerf, trim or the shortest off-cut changed")])


def booked_since(seen: str, work: CutWork) -> list[LeftOut]:
    """What a form was shown as to be cut, and a job has cut since."""
    then = _read_seen(seen)["pieces"]
    return [one for one in work.left_out if one.job is not None and one.key in then]


def _read_seen(seen: str) -> dict[str, dict[str, list[object]]]:
    """Nonsense counts as nothing seen."""
    try:
        found = json.loads(seen)
    except (ValueError, RecursionError):
        found = None
    return found if _is_seen(found) else {"pieces": {}, "stock": {}, "saw": {}}


def _is_seen(found: object) -> bool:
    """Whether it has the shape of `CutWork.seen`."""
    if not isinstance(found, dict) or not isinstance(found.get("saw"), list):
        return False
    tables = [found.get(name) for name in ("pieces", "stock")]
    if not all(isinstance(table, dict) for table in tables):
        return False
    rows = [row for table in tables if isinstance(table, dict) for row in table.values()]
    return all(isinstance(row, list) and row for row in rows)


def _differing_pieces(then: dict[str, list[object]], now: dict[str, list[object]], unit: str) -> list[str]:
    said = [_("%(piece)s is no longer to be cut") % {"piece": key} for key in then if key not in now]
    for key, (mm, _name) in now.items():
        words = {"piece": key, "now": show_length(int(str(mm)), unit)}
        if key not in then:
            said.append(_("%(piece)s, %(now)s, is new") % words)
        elif then[key] != now[key]:
            said.append(_("%(piece)s is %(now)s of another cable or length than before") % words)
    return said


def _differing_stock(then: dict[str, list[object]], now: dict[str, list[object]], unit: str) -> list[str]:
    said = [_("%(row)s is gone") % {"row": then[key][-1]} for key in then if key not in now]
    for key, (mm, count, _kind, name) in now.items():
        words = {"row": name, "now": f"{count} × {show_length(int(str(mm)), unit)}"}
        if key not in then:
            said.append(_("%(row)s, %(now)s, came in") % words)
        elif then[key] != now[key]:
            said.append(_("%(row)s is now %(now)s") % words)
    return said


def _called(row: CableStock) -> str:
    return " ".join(part for part in (row.cable.name, row.kind, row.tag) if part)


def _booked(boards: Iterable[Board]) -> dict[tuple[int, str], CutPiece]:
    """What was cut for these boards and still stands, by board and folded ref, in one query."""
    rows = CutPiece.objects.filter(stands=True, board__in=list(boards)).select_related("of__job")
    return {(piece.board_id or 0, fold(piece.ref)): piece for piece in rows}


def key_of(board: Board, ref: str) -> str:
    return f"{board.code} {ref}"


def _of_board(
    board: Board,
    plan: BoardPlan,
    cables: dict[str, CableType],
    booked: dict[tuple[int, str], CutPiece],
    again: frozenset[str],
) -> tuple[list[Wanted], list[LeftOut]]:
    """A board's own cables and pieces that are to be cut, and those that are not."""
    of_refs = {fold(cable.ref): cables.get(cable.name) for cable in plan.cables}
    listed = [one for one in list_cables(plan) if one.comes == "cut"]
    found = [_of_link(board, plan, one, of_refs) for one in listed]
    found += [_of_piece(board, piece, of_refs) for piece in plan.pieces]
    wanted: list[Wanted] = []
    left_out: list[LeftOut] = []
    for one in found:
        earlier = booked.get((board.pk, fold(one.ref)))
        if earlier is not None and one.key not in again:
            now = one.cut_mm if isinstance(one, Wanted) else None
            left_out.append(_cut_already(one.key, board, one.ref, earlier, now))
        elif isinstance(one, LeftOut):
            left_out.append(one)
        else:
            wanted.append(replace(one, is_again=earlier is not None))
    return wanted, left_out


def _of_link(
    board: Board, plan: BoardPlan, one: ListedCable, of_refs: dict[str, CableType | None]
) -> Wanted | LeftOut:
    key, index = key_of(board, one.ref), index_plan(plan)
    cable = of_refs.get(fold(one.cable)) if one.cable else None
    why = _why_not(one, cable)
    if why or cable is None or one.length_mm is None:
        return LeftOut(key, board, one.ref, why)
    start, end = (index.plugs.get(fold(end.plug)) if end.plug else None for end in one.ends)
    return Wanted(
        key=key,
        ref=one.ref,
        cable=cable,
        cut_mm=one.length_mm,
        what=one.kind,
        board=board,
        plugs=(start, end),
        labels=(one.ends[0].label, one.ends[1].label),
    )


def _of_piece(board: Board, piece: Piece, of_refs: dict[str, CableType | None]) -> Wanted | LeftOut:
    key, cable = key_of(board, piece.ref), of_refs.get(fold(piece.cable))
    if cable is None:
        return LeftOut(key, board, piece.ref, _("its cable type lies in the trash"))
    return Wanted(key, piece.ref, cable, piece.cut_mm, board=board)


def _cut_already(key: str, board: Board, ref: str, earlier: CutPiece, now: int | None) -> LeftOut:
    """Says so when the run wants another length than was cut."""
    job, unit = earlier.of.job, board.shop.length_unit
    words = {"then": show_length(earlier.cut_mm, unit), "now": show_length(now or 0, unit)}
    is_too_short = now is not None and now > earlier.cut_mm
    if is_too_short:
        why = _("cut to %(then)s: too short now, it takes %(now)s; tick “cut it again” in the cut plan")
    elif now in (None, earlier.cut_mm):
        why = _("cut already, %(then)s")
    else:
        why = _("cut already, %(then)s; it would take %(now)s now")
    return LeftOut(
        key, board, ref, why % words, job.number, job.pk, is_too_short, now is not None and not is_too_short
    )


def _why_not(one: ListedCable, cable: CableType | None) -> str:
    """Why a cable that is to be cut cannot be yet; blank when it can."""
    if one.is_to_edge:
        return _("its whole length is not recorded, only the part on the frame is measured")
    if one.blocked_by:
        return _("blocked by %(what)s") % {"what": say_all(one.blocked_by)}
    if one.has_moulded_plug:
        return _("a moulded plug is chosen, which cannot be fitted: buy it ready-made or choose another plug")
    if one.length_mm is None:
        return _("its length is not known; the cables page says what is not recorded")
    return "" if cable is not None else _("its cable type lies in the trash")


def _further(further: Iterable[FurtherPiece], cables: dict[str, CableType]) -> list[Wanted]:
    """Named X1, X2 and so on, or as they were called."""
    found: list[Wanted] = []
    for one in further:
        for _copy in range(one.count if one.cable in cables else 0):
            key = f"X{len(found) + 1}"
            ref = one.name or key
            found.append(Wanted(f"{key} {one.name}".strip(), ref, cables[one.cable], one.length))
    return found


def _plan(
    shop: Shop,
    wanted: list[Wanted],
    left_out: list[LeftOut],
    stock: list[CableStock],
    several: list[Rules],
    seconds: float,
) -> CutWork:
    planned, rules = wanted[:MOST_PIECES], join_rules(several)
    pieces = [Piece(one.key, f"C{one.cable.pk}", one.cut_mm) for one in planned]
    lengths = [StockLength(f"C{row.cable_id}", row.length, row.count, row.kind) for row in stock]
    plan = plan_pieces(pieces, lengths, rules, seconds)
    by_key = {one.key: one for one in planned}
    short = tell_short(pieces, lengths, rules, plan)
    saws = {(each.kerf_mm, each.trim_mm, each.keep_offcut_mm) for each in several}
    return CutWork(
        shop=shop,
        wanted=tuple(planned),
        left_out=tuple(left_out),
        stock=tuple(stock),
        rules=rules,
        plan=plan,
        taken=_take(plan, stock, by_key, rules),
        short=tuple((by_key[one.ref], one) for one in short),
        rules_differ=len(saws) > 1,
        dropped=len(wanted) - len(planned),
        by_key=by_key,
    )


def _take(
    plan: CutPlan, stock: Iterable[CableStock], by_key: dict[str, Wanted], rules: Rules
) -> tuple[Taken, ...]:
    """Each length of the plan with the row it is one of; of equal rows the first in order."""
    rows: dict[tuple[str, str, int], list[CableStock]] = defaultdict(list)
    for row in stock:
        rows[f"C{row.cable_id}", row.kind, row.length] += [row] * min(row.count, MOST_PIECES)
    taken = []
    for used in plan.used:
        row = rows[used.cable, used.kind, used.length].pop(0)
        pieces = tuple(by_key[key] for key, _mm in used.pieces)
        taken.append(Taken(row, used, pieces, kept_mm(used, rules), wasted_mm(used, rules)))
    return tuple(taken)
