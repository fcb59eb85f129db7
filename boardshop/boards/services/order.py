"""The order of the pedals: a line is wired anew as a list says, keeping every link that still fits."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from boardshop.boards.errors import (
    EmptyLoop,
    NoSuchPosition,
    NothingInLine,
    NotOfThisBoard,
    PassedAgain,
    PedalTwice,
)
from boardshop.boards.models import Board, Link
from boardshop.boards.plan.read import plan_at_start
from boardshop.boards.services.directory import Directory, End
from boardshop.boards.services.editing import board_edit
from boardshop.boards.services.lines import Join, Line, is_lead, line_to_wire, links_in_the_way, list_joins
from boardshop.boards.services.links import check_join
from boardshop.boards.services.rewiring import Change, rewire
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.order import list_loops, signal_links, signal_paths
from boardshop.core.plan import BoardPlan

PATCH_COLUMNS = ("cable_id", "plug_from_id", "plug_to_id", "route", "screen")
"""What a re-made patch takes over from the one it replaces; its length is cut anew."""


@board_edit
def wire_line(board: Board, line: int, refs: Sequence[str]) -> None:
    """Wire these pedals in this sequence, from where the line starts to where it ends.

    `line` is the number of the path in the plan's order; a board without any gets its first one, from its
    first instrument to its first amp.  A pedal of the line that is not named is left unwired; a named one of
    another line brings that line along, if all its pedals are named.  Links between neighbours that stay
    neighbours are kept with all that is known of them.
    """
    _Wiring(board).wire(line, refs)


@board_edit
def move_in_line(board: Board, line: int, ref: str, position: int) -> None:
    """Put one pedal at this place of the line, counted from 1; one that is not in it yet is wired in.

    A pedal of another line leaves a closed gap there.  A switcher has a place each time the signal passes it,
    and is not moved by itself.
    """
    wiring = _Wiring(board)
    stops = list(wiring.paths[line].stops) if line < len(wiring.paths) else []
    if stops and fold(ref) not in map(fold, stops) and wiring.close_gap(ref):
        start, end = wiring.paths[line].start, wiring.paths[line].end
        wiring = _Wiring(board)
        ways = [(list(path.stops), path.start, path.end) for path in wiring.paths]
        line = ways.index((stops, start, end)) if (stops, start, end) in ways else line
    others = [other for other in stops if fold(other) != fold(ref)]
    if len(stops) - len(others) > 1:
        raise PassedAgain(ref=ref)
    if not 1 <= position <= len(others) + 1:
        raise NoSuchPosition(count=len(others) + 1)
    moved = [*others[: position - 1], ref, *others[position - 1 :]]
    wiring.wire(line, [stop for stop, _ in groupby(moved)])


@dataclass
class _Freed:
    """The links that no join keeps: patches, the line's own leads by their side, and others' leads.

    `model` is what a patch is made like when the freed ones run out.
    """

    patches: list[Link]
    leads: dict[str, Link]
    others: list[Link]
    model: Link | None


class _Wiring:
    """The board's signal as it is wired now, read in three queries."""

    def __init__(self, board: Board) -> None:
        self.board = board
        self.directory = Directory(board)
        self.plan = plan_at_start(board)
        self.rows = {fold(row.ref): row for row in Link.objects.filter(board=board)}
        self.paths = signal_paths(self.plan)

    def wire(self, number: int, refs: Sequence[str]) -> None:
        _check_refs(self.board, self.plan, refs)
        path = self.paths[number] if number < len(self.paths) else None
        line = line_to_wire(self.plan, path, refs, self.directory)
        joins = list_joins(self.plan, line, refs)
        there = {(link.source, link.target) for link in self.plan.links}
        freed = self._free(line, refs, joins)
        changes = [self._change(join, line, freed) for join in joins if join not in there]
        rewire(changes, removed=[*freed.patches, *freed.leads.values(), *freed.others])

    def close_gap(self, ref: str) -> bool:
        """Join what a pedal stands between on its own line, where it has one way in and one way out."""
        for number, path in enumerate(self.paths):
            rest = [stop for stop in path.stops if fold(stop) != fold(ref)]
            if len(rest) == len(path.stops) - 1 and rest and self._is_plain(ref):
                self.wire(number, [stop for stop, _ in groupby(rest)])
                return True
        return False

    def _is_plain(self, ref: str) -> bool:
        links = signal_links(self.plan)
        ways_in = sum(1 for link in links if fold(split_end(link.target)[0]) == fold(ref))
        ways_out = sum(1 for link in links if fold(split_end(link.source)[0]) == fold(ref))
        return ways_in <= 1 and ways_out <= 1

    def _free(self, line: Line, refs: Sequence[str], joins: Sequence[Join]) -> _Freed:
        links = [*line.links, *links_in_the_way(self.plan, line, refs, joins)]
        loose = {link: self.rows[fold(link.ref)] for link in links if (link.source, link.target) not in joins}
        leads = {link: row for link, row in loose.items() if is_lead(self.plan, link)}
        ends = {
            side: row for link, row in leads.items() if (side := line.side_of((link.source, link.target)))
        }
        patches = [row for link, row in loose.items() if link not in leads]
        others = [row for row in leads.values() if row not in ends.values()]
        return _Freed(patches, ends, others, self._model(line, patches))

    def _model(self, line: Line, patches: Sequence[Link]) -> Link | None:
        """What a new patch is made like: one that is freed, else of the line, else of the board; no lead."""
        links = (link for link in (*line.links, *signal_links(self.plan)) if not is_lead(self.plan, link))
        return next(iter(patches), None) or next((self.rows[fold(link.ref)] for link in links), None)

    def _change(self, join: Join, line: Line, freed: _Freed) -> Change:
        """A lead is the line's own from that end, or a new one; it is never made from a patch."""
        side, ends = line.side_of(join), self._ends(join)
        if side:
            return Change(freed.leads.pop(side) if side in freed.leads else self._new_link(None), *ends)
        patch = freed.patches.pop(0) if freed.patches else self._new_link(freed.model)
        _forget_length(patch)
        return Change(patch, *ends)

    def _ends(self, join: Join) -> tuple[End, End]:
        start, end = self.directory.find(join[0]), self.directory.find(join[1])
        check_join(start, end)
        return start, end

    def _new_link(self, model: Link | None) -> Link:
        """A link with the cable and plugs of one that was there; of none, nothing is known."""
        columns = {name: getattr(model, name) for name in PATCH_COLUMNS} if model else {}
        position, self.directory.next_position = (
            self.directory.next_position,
            self.directory.next_position + 1,
        )
        return Link(board=self.board, ref=self.directory.free_ref("W"), position=position, **columns)


def _forget_length(patch: Link) -> None:
    """A patch to another jack is cut anew; a made cable that was on it is spare."""
    patch.length = patch.made = patch.made_cable = None


def _check_refs(board: Board, plan: BoardPlan, refs: Sequence[str]) -> None:
    if not refs:
        raise NothingInLine
    pedals = index_plan(plan).pedals
    for number, ref in enumerate(refs):
        if fold(ref) not in pedals:
            raise NotOfThisBoard(thing=ref, board=board.name)
        before = [fold(other) for other in refs[:number]]
        if fold(ref) in before and not list_loops(pedals[fold(ref)]):
            raise PedalTwice(ref=ref)
        if before[-1:] == [fold(ref)]:
            raise EmptyLoop(ref=ref)
