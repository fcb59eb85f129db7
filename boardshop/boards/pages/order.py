"""The order page: what stands where in the signal, how it is played, and what is on the board at all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from boardshop.boards.catalogue import catalogue_of
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.ends import AmpForm, ComputerForm, SourceForm
from boardshop.boards.forms.order import WireForm
from boardshop.boards.forms.pedals import AddPedalForm, PlayForm
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.strip import Strip, list_strips
from boardshop.boards.sheet import BoardSheet
from boardshop.core.order import SignalPath, explain_moves, list_chains
from boardshop.core.plan import Amp, Computer, Pedal, Source


@dataclass(frozen=True)
class OrderRow:
    """One pedal: its place in its first line, and the form that says how it is played."""

    pedal: Pedal
    number: int | str
    form: EditForm
    line: int | None
    position: int
    last: int
    wrong: bool
    why: str
    """The id of the sentence on this page that says why it would move; blank where it would not."""

    @property
    def earlier(self) -> int | None:
        return self.position - 1 if self.line is not None and self.position > 1 else None

    @property
    def later(self) -> int | None:
        return self.position + 1 if self.line is not None and self.position < self.last else None


@dataclass(frozen=True)
class Why:
    """Why one pedal would move on one line; `id` is that of the sentence on the page."""

    id: str
    ref: str
    message: str


@dataclass(frozen=True)
class WireRow:
    """A line as a form, and why its school would have it otherwise; a first line has no strip."""

    strip: Strip | None
    form: EditForm
    reasons: tuple[Why, ...] = ()


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


def build_order(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    strips = list_strips(sheet, lambda ref: f"#{play_key(ref)}", state.opened)
    catalogue = catalogue_of(sheet.board)
    wires = _wires(sheet, state, strips)
    return {
        "strips": strips,
        "rows": [_row(sheet, state, pedal, wires) for pedal in sheet.pedals],
        "wires": wires,
        "first_line_end": len(strips[0].stops) + 1 if strips else 1,
        "ends": list_ends(sheet),
        "add_pedal": state.form(
            "add-pedal", lambda: AddPedalForm(key="add-pedal", gear=catalogue.pedal_choices())
        ),
        "add_source": state.form("add-source", lambda: SourceForm(key="add-source")),
        "add_amp": state.form("add-amp", lambda: AmpForm(key="add-amp", initial={"protection_class": "I"})),
        "add_computer": state.form("add-computer", lambda: ComputerForm(key="add-computer")),
        "findings": list_findings(sheet.plan, sheet.findings_of("order"), state),
    }


def _wires(sheet: BoardSheet, state: PageState, strips: list[Strip]) -> list[WireRow]:
    if not strips:
        return [WireRow(None, state.form(wire_key(0), lambda: _first_wire(sheet)))]
    chains = list_chains(sheet.plan)
    return [
        WireRow(strip, state.form(wire_key(strip.line), _fresh_wire(strip)), _reasons(sheet, strip, chain))
        for strip, chain in zip(strips, chains, strict=True)
    ]


def _reasons(sheet: BoardSheet, strip: Strip, chain: SignalPath) -> tuple[Why, ...]:
    moves = explain_moves(sheet.plan, chain)
    return tuple(Why(f"why-{strip.line}-{move.ref}", move.ref, move.message) for move in moves)


def list_ends(sheet: BoardSheet) -> list[EndRow]:
    plan = sheet.plan
    rows = [_source_row(source) for source in plan.sources] + [_amp_row(amp) for amp in plan.amps]
    return rows + [_computer_row(computer) for computer in plan.computers]


def _row(sheet: BoardSheet, state: PageState, pedal: Pedal, wires: list[WireRow]) -> OrderRow:
    strips = [wire.strip for wire in wires if wire.strip]
    strip = next((s for s in strips if any(stop.ref == pedal.ref for stop in s.stops)), None)
    refs = [stop.ref for stop in strip.stops] if strip else []
    values = {"role": pedal.role or "", "on": pedal.on, "use": pedal.use}
    key = play_key(pedal.ref)
    return OrderRow(
        pedal=pedal,
        number=sheet.numbers.get(pedal.ref, pedal.ref),
        form=state.form(key, lambda: PlayForm(key=key, initial=values)),
        line=strip.line if strip else None,
        position=refs.index(pedal.ref) + 1 if refs else 0,
        last=len(refs),
        wrong=pedal.ref in sheet.order.moved,
        why=next((why.id for wire in wires for why in wire.reasons if why.ref == pedal.ref), ""),
    )


def _fresh_wire(strip: Strip) -> Any:
    return lambda: WireForm(key=wire_key(strip.line), initial={"line": strip.line, "refs": strip.refs})


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
