"""The order of the pedals: a line is wired anew as a list says, keeping every link that still fits."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from boardshop.boards.errors import CannotPass, LineHasLoops, NoSuchPosition, NotOfThisBoard, PedalTwice
from boardshop.boards.models import Amp, Board, Link, Source
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.editing import board_edit, free_ref, next_position, set_columns
from boardshop.boards.services.links import End, find_end
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.order.paths import SignalPath, signal_paths
from boardshop.core.plan import SOURCE_JACK_NAME, BoardPlan

PATCH_COLUMNS = ("cable", "plug_from", "plug_to", "route", "screen")
"""What a re-made patch takes over from the one it replaces; its length is cut anew."""


@board_edit
def wire_line(board: Board, line: int, refs: Sequence[str]) -> None:
    """Wire these pedals in this sequence, from where the line starts to where it ends.

    `line` is the number of the path in the plan's order; a board without any gets its first one, from its
    first instrument to its first amp.  A pedal of the line that is not named is left unwired.  Links between
    neighbours that stay neighbours are kept with all that is known of them.
    """
    _wire(board, load_plan(board), line, refs)


@board_edit
def move_in_line(board: Board, line: int, ref: str, position: int) -> None:
    """Put one pedal at this place of the line, counted from 1; one that is not in it yet is wired in."""
    plan = load_plan(board)
    paths = signal_paths(plan)
    refs = list(paths[line].refs) if line < len(paths) else []
    others = [other for other in refs if fold(other) != fold(ref)]
    if not 1 <= position <= len(others) + 1:
        raise NoSuchPosition(count=len(others) + 1)
    _wire(board, plan, line, [*others[: position - 1], ref, *others[position - 1 :]])


@dataclass(frozen=True)
class _Line:
    """A line as it is wired: the jacks at both ends and, by folded ref, those that each pedal uses."""

    start: str | None
    end: str | None
    inputs: dict[str, str]
    outputs: dict[str, str]


def _wire(board: Board, plan: BoardPlan, number: int, refs: Sequence[str]) -> None:
    _check_refs(board, plan, refs)
    paths = signal_paths(plan)
    path = paths[number] if number < len(paths) else None
    line = _new_line(board) if path is None else _line_of(path)
    joins = _joins(plan, line, refs)
    rows = _rows_of(board, path)
    kept = {join: row for join, row in rows.items() if join in joins}
    freed = [row for join, row in rows.items() if join not in kept]
    leads, patches = _split_leads(freed, line)
    pool = [*patches, *_usual_patch(board)]
    Link.objects.filter(pk__in=[row.pk for row in patches]).delete()
    for source, target in joins:
        if (source, target) in kept:
            continue
        lead = leads.pop(source if source == line.start else target, None)
        if lead is not None:
            set_columns(lead, find_end(board, source).columns("from") | find_end(board, target).columns("to"))
        else:
            _add_patch(board, find_end(board, source), find_end(board, target), pool)


def _check_refs(board: Board, plan: BoardPlan, refs: Sequence[str]) -> None:
    pedals = index_plan(plan).pedals
    for number, ref in enumerate(refs):
        if fold(ref) not in pedals:
            raise NotOfThisBoard(thing=ref, board=board.name)
        if fold(ref) in {fold(other) for other in refs[:number]}:
            raise PedalTwice(ref=ref)


def _line_of(path: SignalPath) -> _Line:
    inputs: dict[str, str] = {}
    outputs: dict[str, str] = {}
    for link in path.links:
        start, end = fold(split_end(link.source)[0]), fold(split_end(link.target)[0])
        if start in outputs or end in inputs:
            raise LineHasLoops(pedal=split_end(link.source if start in outputs else link.target)[0])
        outputs[start], inputs[end] = link.source, link.target
    return _Line(path.start, path.end, inputs, outputs)


def _new_line(board: Board) -> _Line:
    source = Source.objects.filter(board=board).first()
    amp = Amp.objects.filter(board=board).first()
    end = next((j["name"] for j in amp.all_jacks() if j["role"] == "in"), None) if amp else None
    return _Line(
        start=f"{source.ref}.{SOURCE_JACK_NAME}" if source else None,
        end=f"{amp.ref}.{end}" if amp and end else None,
        inputs={},
        outputs={},
    )


def _joins(plan: BoardPlan, line: _Line, refs: Sequence[str]) -> list[tuple[str, str]]:
    """From jack to jack along the new sequence."""
    ends = [(_jack(plan, ref, "in", line.inputs), _jack(plan, ref, "out", line.outputs)) for ref in refs]
    stops = [("", line.start or ""), *ends, (line.end or "", "")]
    return [(one[1], other[0]) for one, other in pairwise(stops) if one[1] and other[0]]


def _jack(plan: BoardPlan, ref: str, role: str, used: dict[str, str]) -> str:
    if fold(ref) in used:
        return used[fold(ref)]
    pedal = index_plan(plan).pedals[fold(ref)]
    for jack in pedal.jacks:
        if jack.role == role:
            return f"{pedal.ref}.{jack.name}"
    raise CannotPass(ref=ref, role=role)


def _rows_of(board: Board, path: SignalPath | None) -> dict[tuple[str, str], Link]:
    if path is None:
        return {}
    links = Link.objects.filter(board=board, ref__in=[link.ref for link in path.links])
    rows = {row.ref: row for row in links.select_related("cable", "plug_from", "plug_to")}
    return {(link.source, link.target): rows[link.ref] for link in path.links}


def _split_leads(freed: Sequence[Link], line: _Line) -> tuple[dict[str, Link], list[Link]]:
    """Leads keep their cable whatever they are plugged into; patches are made anew."""
    start, end = (split_end(jack)[0] if jack else "" for jack in (line.start, line.end))
    leads: dict[str, Link] = {}
    patches = []
    for row in freed:
        if line.start and row.from_item.ref == start:
            leads[line.start] = row
        elif line.end and row.to_item.ref == end:
            leads[line.end] = row
        else:
            patches.append(row)
    return leads, patches


def _usual_patch(board: Board) -> list[Link]:
    """The first patch between two pedals, whose cable and plugs a further one takes."""
    patches = Link.objects.filter(board=board, from_jack__isnull=False, to_jack__isnull=False)
    return list(patches.filter(carries="signal").select_related("cable", "plug_from", "plug_to")[:1])


def _add_patch(board: Board, source: End, target: End, pool: list[Link]) -> None:
    """A link with the cable and plugs of one that went, under its ref while there are any."""
    model = pool.pop(0) if len(pool) > 1 else next(iter(pool), None)
    columns: dict[str, Any] = {name: getattr(model, name) for name in PATCH_COLUMNS} if model else {}
    ref = model.ref if model and not Link.objects.filter(board=board, ref=model.ref).exists() else ""
    Link.objects.create(
        board=board,
        position=model.position if ref and model else next_position(board),
        ref=ref or free_ref(board, "W"),
        **source.columns("from"),
        **target.columns("to"),
        **columns,
    )
