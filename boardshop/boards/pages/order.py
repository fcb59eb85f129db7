"""The order page: what stands where in the signal, how it is played, and what is on the board at all."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

from django.utils.translation import gettext as _

from boardshop.boards.catalogue import catalogue_of
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.ends import AmpForm, ComputerForm, SourceForm
from boardshop.boards.forms.order import WireForm
from boardshop.boards.forms.pedals import AddPedalForm, PlayForm
from boardshop.boards.pages.between import Between, place_findings
from boardshop.boards.pages.findings import FoundRows
from boardshop.boards.pages.lanes import draw_signal
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.schools import School, list_schools
from boardshop.boards.pages.strip import Strip, list_strips
from boardshop.boards.sheet import BoardSheet
from boardshop.core.index import fold
from boardshop.core.layout.rows import number_places
from boardshop.core.order.lanes import JackAt, Lane, Lanes, find_lanes
from boardshop.core.plan import Amp, Computer, Pedal, Source


@dataclass(frozen=True)
class OrderRow:
    """One pedal: its two numbers, its place in its first line, and the form that says how it is played.

    `position` counts the stops of the line; it is 0 for a pedal that is not wired, or that the line passes
    several times.  `moved` is the refused form that would have moved it.
    """

    pedal: Pedal
    number: int | str
    place: str
    fresh: Callable[[], EditForm]
    typed: EditForm | None
    is_chosen: bool
    moved: EditForm | None
    line: int | None
    way: str
    """Which of several ways the position counts along; blank where there is one."""
    position: int
    last: int
    wrong: bool
    why: str
    """The id of the sentence on this page that says why it would move; blank where it would not."""
    before: FoundRows | None
    behind: FoundRows | None

    @cached_property
    def form(self) -> EditForm:
        """Made when it is drawn: most rows are remembered."""
        return self.fresh() if self.typed is None else self.typed

    @property
    def memory(self) -> Hashable | None:
        """All that its row shows, but not what stands around it; see templatetags/remembered.py."""
        if self.typed is not None or self.moved is not None:
            return None
        stands = (self.number, self.place, self.line, self.way, self.position, self.last)
        return self.pedal, *stands, self.is_chosen, self.wrong, self.why

    @property
    def earlier(self) -> int | None:
        return self.position - 1 if self.position > 1 else None

    @property
    def later(self) -> int | None:
        return self.position + 1 if 0 < self.position < self.last else None


@dataclass(frozen=True)
class Group:
    """The pedals of one lane; the heading is blank where there is only one."""

    heading: str
    rows: list[OrderRow]


@dataclass(frozen=True)
class WireRow:
    """A line as a form; a first line has no strip."""

    strip: Strip | None
    form: EditForm


@dataclass(frozen=True)
class EndRow:
    """An instrument, amp or computer, with what is known of it."""

    ref: str
    kind: str
    known: tuple[str, ...]


def play_key(ref: str) -> str:
    return f"play-{ref}"


def wire_key(line: int) -> str:
    return f"wire-{line}"


def move_key(ref: str) -> str:
    return f"move-{ref}"


def build_order(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    catalogue = catalogue_of(sheet.board)
    found = find_lanes(sheet.plan)
    refs = [ref for lane in found.lanes for ref in lane.stops] + list(found.not_wired)
    between = place_findings(sheet.plan, refs, sheet.findings_of("order"), state)
    strips = list_strips(sheet, lambda ref: f"#{play_key(ref)}", state.opened, between.worst_before)
    schools = list_schools(sheet, strips)
    rows = {row.pedal.ref: row for row in _rows(sheet, state, strips, schools[0], between)}
    return {
        "strips": strips,
        "lanes": draw_signal(sheet, lambda ref: f"#{play_key(ref)}"),
        "groups": group_rows(found, rows),
        "rows": [rows[ref] for ref in refs],
        "stops": {strip.line: strip.stop_refs for strip in strips},
        "schools": schools,
        "wires": _wires(sheet, state, strips),
        "first_line_end": len(strips[0].stop_refs) + 1 if strips else 1,
        "ends": list_ends(sheet),
        "add_pedal": state.form(
            "add-pedal", lambda: AddPedalForm(key="add-pedal", gear=catalogue.pedal_choices())
        ),
        "add_source": state.form("add-source", lambda: SourceForm(key="add-source")),
        "add_amp": state.form("add-amp", lambda: AmpForm(key="add-amp", initial={"protection_class": "I"})),
        "add_computer": state.form("add-computer", lambda: ComputerForm(key="add-computer")),
        "findings": between.rest,
        "placed": between.placed,
        "scenes": sheet.plan.scenes,
    }


def _wires(sheet: BoardSheet, state: PageState, strips: list[Strip]) -> list[WireRow]:
    if not strips:
        return [WireRow(None, state.form(wire_key(0), lambda: _first_wire(sheet)))]
    return [WireRow(strip, state.form(wire_key(strip.line), _fresh_wire(strip))) for strip in strips]


def _rows(
    sheet: BoardSheet, state: PageState, strips: list[Strip], school: School, between: Between
) -> Iterator[OrderRow]:
    places = number_places(sheet.plan)
    whys = {move.ref: move.id for line in reversed(school.lines) for move in line.first.moves}
    for pedal in sheet.pedals:
        strip = next((s for s in strips if pedal.ref in s.stop_refs), None)
        stops = strip.stop_refs if strip else ()
        values = {"role": pedal.role or "", "on": pedal.on, "use": pedal.use}
        key = play_key(pedal.ref)
        fresh = partial(PlayForm, key=key, initial=values)
        yield OrderRow(
            pedal=pedal,
            number=sheet.numbers.get(pedal.ref, pedal.ref),
            place=places.get(pedal.ref, ""),
            fresh=fresh,
            typed=state.typed_form(key, fresh),
            is_chosen=pedal.ref == state.opened,
            moved=state.take(move_key(pedal.ref)),
            line=strip.line if strip else None,
            way=strip.way if strip else "",
            position=stops.index(pedal.ref) + 1 if stops.count(pedal.ref) == 1 else 0,
            last=len(stops),
            wrong=pedal.ref in sheet.order.moved,
            why=whys.get(pedal.ref, ""),
            before=between.before.get(fold(pedal.ref)),
            behind=between.behind.get(fold(pedal.ref)),
        )


def group_rows(found: Lanes, rows: dict[str, OrderRow]) -> list[Group]:
    """The rows lane by lane; what is not wired stands in a group of its own behind them."""
    groups = [Group(name_lane(lane), [rows[ref] for ref in lane.stops]) for lane in found.lanes if lane.stops]
    groups += [Group(_("Not wired"), [rows[ref] for ref in found.not_wired])] if found.not_wired else []
    return groups if len(groups) > 1 else [Group("", group.rows) for group in groups]


def name_lane(lane: Lane) -> str:
    """`Main line, G1.OUT to A1.IN`."""
    kinds = {
        "main": _("Main line"),
        "branch": _("Branch"),
        "loop": _("Loop"),
        "amp loop": _("Amp’s loop"),
        "apart": _("Line of its own"),
    }
    start, end = lane.start or _jack(lane.leaves), lane.end or _jack(lane.returns)
    words = {
        "lane": kinds[lane.kind],
        "start": start or _("an open input"),
        "end": end or _("an open output"),
    }
    return _("%(lane)s, %(start)s to %(end)s") % words


def _jack(at: JackAt | None) -> str:
    return ".".join(at) if at else ""


def list_ends(sheet: BoardSheet) -> list[EndRow]:
    plan = sheet.plan
    rows = [_source_row(source) for source in plan.sources] + [_amp_row(amp) for amp in plan.amps]
    return rows + [_computer_row(computer) for computer in plan.computers]


def _fresh_wire(strip: Strip) -> Any:
    return lambda: WireForm(
        key=wire_key(strip.line), initial={"line": strip.line, "refs": " ".join(strip.stop_refs)}
    )


def _first_wire(sheet: BoardSheet) -> WireForm:
    """A board without any line: all its pedals in the order in which they were put on."""
    refs = " ".join(pedal.ref for pedal in sheet.plan.pedals)
    return WireForm(key=wire_key(0), initial={"line": 0, "refs": refs})


def _source_row(source: Source) -> EndRow:
    pickup = source.pickup
    known = [f"{source.output_ohm} ohm"] if source.output_ohm is not None else []
    if pickup is not None and pickup.l is not None:
        known.append(f"{pickup.l:g} H")
    return EndRow(source.ref, _("instrument"), tuple(known))


def _amp_row(amp: Amp) -> EndRow:
    known = [_("class %(name)s") % {"name": amp.protection_class}] + [jack.name for jack in amp.jacks]
    return EndRow(amp.ref, _("amp"), tuple(known))


def _computer_row(computer: Computer) -> EndRow:
    return EndRow(computer.ref, _("computer"), tuple(jack.name for jack in computer.jacks))


ORDER = Page("order", build_order)
