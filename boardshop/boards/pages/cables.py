"""The cables page: every link with its cable, run and cut, the total, and what to cut it from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from boardshop.boards.catalogue import Catalogue, catalogue_of
from boardshop.boards.drawing import draw_board
from boardshop.boards.forms.edits import Choices, EditForm
from boardshop.boards.forms.links import ConnectForm, LinkForm
from boardshop.boards.models import Board
from boardshop.boards.pages.chosen_runs import choose
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.made_cables import MadeOn, can_have_one, list_made
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.tone_words import say_peak, say_resonance
from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables import Run, measure_runs
from boardshop.core.cables.runs import link_capacitances
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.lengths import show_length
from boardshop.core.plan import BoardPlan, Link
from boardshop.core.tone.states import ToneState, is_active
from boardshop.core.vocabulary import JOINS

STARTS = tuple(dict.fromkeys(start for start, _end in JOINS))
ENDS = tuple(dict.fromkeys(end for _start, end in JOINS))


type Keys = dict[str | None, str]
"""From the plan's refs of cable and plug types to the keys of the shop's rows."""


@dataclass(frozen=True)
class LinkRow:
    """One link with what core measured of it; `run` is None where its length is given or made."""

    link: Link
    source_name: str
    target_name: str
    form: EditForm
    run: Run | None
    pf: int | None
    """Of its given or made length, else of its cut; None where not known."""
    cable_name: str
    plug_names: tuple[str, str]
    made: MadeOn | None
    can_have_one: bool
    """Whether a made cable of the register can be on it."""


@dataclass(frozen=True)
class PartRow:
    """A cable type in lengths, or a plug type in pieces."""

    name: str
    to_make: str
    in_all: str


@dataclass(frozen=True)
class ToneRow:
    """One instrument; each state in words, its capacitance beside its own resonance."""

    source: str
    is_linked: bool
    all_bypassed: str
    as_used: str


def link_key(ref: str) -> str:
    return f"link-{ref}"


def build_cables(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    catalogue = catalogue_of(sheet.board)
    catalogue.read("cables", "plugs")
    keys = type_keys(sheet.plan, catalogue)
    connect = state.form("connect", lambda: connect_form(sheet.board))
    assert isinstance(connect, ConnectForm)
    connect.offer_ends(*list_jacks(sheet.plan))
    selection = choose(sheet, state.opened)
    made = list_made(sheet)
    return {
        "here": reverse("cables", args=[sheet.board.code]),
        "selection": selection,
        "drawing": draw_cables(sheet, selection.refs),
        "rows": [_row(sheet, state, keys, link, made) for link in sheet.plan.links],
        "connect": connect,
        "parts": list_parts(sheet),
        "cables": sheet.cables,
        "tones": list_tones(sheet),
        "findings": list_findings(sheet.plan, sheet.findings_of("cables", "tone"), state),
    }


def draw_cables(sheet: BoardSheet, selected: str) -> SafeString:
    """The board with its runs; each thing on it chooses a cable, or its own cables, on this very page."""
    plan = sheet.plan
    refs = {link.ref for link in plan.links} | {pedal.ref for pedal in plan.pedals}
    svg = draw_board(
        plan,
        runs=measure_runs(plan),
        numbers=sheet.numbers,
        selected=selected or None,
        url=lambda ref: f"?run={quote(ref)}#chosen" if ref in refs else None,
        length_unit=sheet.board.shop.length_unit,
        name="cables-drawing",
        wide=True,
    )
    return mark_safe(svg)  # noqa: S308 - draw_board escapes every text


def list_jacks(plan: BoardPlan) -> tuple[Choices, Choices]:
    """Where a link may start and where it may end, in words; jacks in use say so."""
    index = index_plan(plan)
    used = _(", in use")
    starts: Choices = []
    ends: Choices = []
    for folded, jack in index.jacks.items():
        part = index.signal_parts[split_end(folded)[0]]
        end = f"{part.ref}.{jack.name}"
        words = " ".join([end, getattr(part, "name", "")]).strip()
        if jack.role in STARTS:
            starts.append((end, words + (used if index.links_from.get(folded) else "")))
        if jack.role in ENDS:
            ends.append((end, words + (used if index.links_to.get(folded) else "")))
    return starts, ends


def connect_form(board: Board, data: Any = None) -> ConnectForm:
    catalogue = catalogue_of(board)
    catalogue.read("cables", "plugs")
    unit = board.shop.length_unit
    return ConnectForm(data, key="connect", unit=unit, cables=catalogue.cables, plugs=catalogue.plugs)


def link_form(board: Board, key: str, data: Any = None, values: Any = None) -> LinkForm:
    """A link's form in its row, where its ends stay what they are, or on its own page."""
    catalogue = catalogue_of(board)
    catalogue.read("cables", "plugs")
    unit = board.shop.length_unit
    return LinkForm(data, key=key, unit=unit, cables=catalogue.cables, plugs=catalogue.plugs, initial=values)


def _row(sheet: BoardSheet, state: PageState, keys: Keys, link: Link, made: dict[str, MadeOn]) -> LinkRow:
    key, names = link_key(link.ref), type_names(sheet.plan)
    return LinkRow(
        link=link,
        source_name=name_of(sheet.plan, link.source),
        target_name=name_of(sheet.plan, link.target),
        form=state.form(key, lambda: link_form(sheet.board, key, values=link_values(link, keys))),
        run=sheet.runs.get(fold(link.ref)),
        pf=link_capacitances(sheet.plan)[fold(link.ref)],
        cable_name=names.get(link.cable, ""),
        plug_names=(names.get(link.plug_from, ""), names.get(link.plug_to, "")),
        made=made.get(fold(link.ref)),
        can_have_one=can_have_one(link),
    )


def name_of(plan: BoardPlan, end: str) -> str:
    """The name of the part at this end; blank when it has none."""
    part = index_plan(plan).signal_parts.get(fold(split_end(end)[0]))
    return getattr(part, "name", "") or ""


def type_keys(plan: BoardPlan, catalogue: Catalogue) -> Keys:
    """From the plan's refs of cable and plug types to their keys in the shop, by their names."""
    cables = {cable.name: key for key, cable in catalogue.cables.items()}
    keys: Keys = {cable.ref: cables.get(cable.name, "") for cable in plan.cables}
    return keys | plug_keys(plan, catalogue)


def plug_keys(plan: BoardPlan, catalogue: Catalogue) -> Keys:
    plugs = {plug.name: key for key, plug in catalogue.plugs.items()}
    return {plug.ref: plugs.get(plug.name, "") for plug in plan.plugs}


def type_names(plan: BoardPlan) -> Keys:
    names: Keys = {cable.ref: cable.name for cable in plan.cables}
    return names | {plug.ref: plug.name for plug in plan.plugs}


def list_parts(sheet: BoardSheet) -> list[PartRow]:
    names, unit = type_names(sheet.plan), sheet.board.shop.length_unit
    parts = sheet.cables.parts
    cables = [
        PartRow(
            named_type(names, one.cable),
            show_length(one.cut_mm, unit),
            show_length(one.cut_mm + one.made_mm + one.leads_mm, unit),
        )
        for one in parts.cables
    ]
    return cables + [
        PartRow(named_type(names, one.plug), str(one.to_fit), str(one.in_all)) for one in parts.plugs
    ]


def list_tones(sheet: BoardSheet) -> list[ToneRow]:
    """For each instrument what it hears of the cable, with every pedal bypassed and as the board is used."""
    active = {source.ref for source in sheet.plan.sources if is_active(source)}
    return [
        ToneRow(
            source=one.source,
            is_linked=bool(one.segments),
            all_bypassed=say_tone(one.all_bypassed, one.source in active),
            as_used=say_tone(one.as_used, one.source in active),
        )
        for one in sheet.tone.sources
    ]


def say_tone(state: ToneState | None, active: bool) -> str:
    """`948 pF, resonance 3120 Hz, peak +8.1 dB`: a state's cable and what it makes of it."""
    if state is None:
        return _("unknown, since it ends in no input on record")
    pf = _("pF unknown") if state.pf is None else f"{state.pf} pF"
    if active:
        return _("%(pf)s, active, so no resonance with the cable") % {"pf": pf}
    if state.db_at is None:
        return _("%(pf)s, resonance unknown") % {"pf": pf}
    if state.resonance_hz is None:
        return _("%(pf)s, no resonance peak") % {"pf": pf}
    said = {"pf": pf, "hz": say_resonance(state), "db": say_peak(state)}
    return _("%(pf)s, resonance %(hz)s, peak %(db)s") % said


def named_type(names: Keys, ref: str) -> str:
    """`Flat angle (J2)`: the name first, then what the findings and the papers may call it."""
    name = names.get(ref)
    return f"{name} ({ref})" if name and name != ref else ref


def link_values(link: Link, keys: Keys) -> dict[str, Any]:
    """What a link's form shows at first."""
    return {
        "source": link.source,
        "target": link.target,
        "cable": keys.get(link.cable, ""),
        "plug_from": keys.get(link.plug_from, ""),
        "plug_to": keys.get(link.plug_to, ""),
        "route": link.route,
        "length": link.length,
        "made": link.made,
        "screen": link.screen,
    }


CABLES = Page("cables", build_cables)
