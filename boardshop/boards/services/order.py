"""The order of the pedals: a line is wired anew as a list says, keeping every link that still fits."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from boardshop.boards.errors import CannotPass, LineHasLoops, NoSuchPosition, NotOfThisBoard, PedalTwice
from boardshop.boards.models import Board, Link
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.directory import Directory, End
from boardshop.boards.services.editing import board_edit
from boardshop.boards.services.links import check_join
from boardshop.boards.services.rewiring import Change, rewire
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.order.paths import SignalPath, signal_paths
from boardshop.core.plan import SOURCE_JACK_NAME, BoardPlan

PATCH_COLUMNS = ("cable_id", "plug_from_id", "plug_to_id", "route", "screen")
"""What a re-made patch takes over from the one it replaces; its length is cut anew."""

type Join = tuple[str, str]
"""From one jack to another, as the plan spells them."""


@board_edit
def wire_line(board: Board, line: int, refs: Sequence[str]) -> None:
    """Wire these pedals in this sequence, from where the line starts to where it ends.

    `line` is the number of the path in the plan's order; a board without any gets its first one, from its
    first instrument to its first amp.  A pedal of the line that is not named is left unwired.  Links between
    neighbours that stay neighbours are kept with all that is known of them.
    """
    _Wiring(board).wire(line, refs)


@board_edit
def move_in_line(board: Board, line: int, ref: str, position: int) -> None:
    """Put one pedal at this place of the line, counted from 1; one that is not in it yet is wired in."""
    wiring = _Wiring(board)
    refs = list(wiring.paths[line].refs) if line < len(wiring.paths) else []
    others = [other for other in refs if fold(other) != fold(ref)]
    if not 1 <= position <= len(others) + 1:
        raise NoSuchPosition(count=len(others) + 1)
    wiring.wire(line, [*others[: position - 1], ref, *others[position - 1 :]])


@dataclass(frozen=True)
class _Line:
    """A line as it is wired: the jacks at both ends and, by folded ref, those that each pedal uses."""

    start: str | None
    end: str | None
    inputs: dict[str, str]
    outputs: dict[str, str]


class _Wiring:
    """The board's signal as it is wired now, read in three queries."""

    def __init__(self, board: Board) -> None:
        self.board = board
        self.directory = Directory(board)
        self.plan = load_plan(board)
        self.rows = {fold(row.ref): row for row in Link.objects.filter(board=board)}
        self.paths = signal_paths(self.plan)

    def wire(self, number: int, refs: Sequence[str]) -> None:
        _check_refs(self.board, self.plan, refs)
        path = self.paths[number] if number < len(self.paths) else None
        line = _new_line(self.directory) if path is None else _line_of(path)
        joins = _joins(self.plan, line, refs)
        links = path.links if path else ()
        rows = {(link.source, link.target): self.rows[fold(link.ref)] for link in links}
        kept = [row for join, row in rows.items() if join in joins]
        freed = {join: row for join, row in rows.items() if join not in joins}
        leads = {side: row for join, row in freed.items() if (side := _lead_side(join, line))}
        patches = [row for row in freed.values() if row not in leads.values()]
        changes, model = [], next(iter([*patches, *kept]), None)
        for join in joins:
            if join in rows:
                continue
            ends = self._ends(join)
            lead = leads.pop(_lead_side(join, line), None)
            if lead is not None:
                changes.append(Change(lead, *ends))
                continue
            patch = patches.pop(0) if patches else self._new_patch(model)
            _forget_length(patch)
            changes.append(Change(patch, *ends))
        rewire(changes, removed=[*patches, *leads.values()])

    def _ends(self, join: Join) -> tuple[End, End]:
        start, end = self.directory.find(join[0]), self.directory.find(join[1])
        check_join(start, end)
        return start, end

    def _new_patch(self, model: Link | None) -> Link:
        """A link with the cable and plugs of one that was there."""
        columns = {name: getattr(model, name) for name in PATCH_COLUMNS} if model else {}
        position, self.directory.next_position = (
            self.directory.next_position,
            self.directory.next_position + 1,
        )
        return Link(board=self.board, ref=self.directory.free_ref("W"), position=position, **columns)


def _forget_length(patch: Link) -> None:
    """A patch to another jack is cut anew."""
    patch.length = patch.made = None


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


def _new_line(directory: Directory) -> _Line:
    source, amp = directory.first("source"), directory.first("amp")
    end = next((j["name"] for j in amp.all_jacks() if j["role"] == "in"), None) if amp else None
    return _Line(
        start=f"{source.ref}.{SOURCE_JACK_NAME}" if source else None,
        end=f"{amp.ref}.{end}" if amp and end else None,
        inputs={},
        outputs={},
    )


def _joins(plan: BoardPlan, line: _Line, refs: Sequence[str]) -> list[Join]:
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


def _lead_side(join: Join, line: _Line) -> str:
    """Which end of the line a join hangs on; leads keep their cable whatever they are plugged into."""
    if join[0] == line.start:
        return "start"
    return "end" if join[1] == line.end else ""
