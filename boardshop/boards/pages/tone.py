"""The tone page: for each instrument what hangs on it in every state, what that does, and what if."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.http import QueryDict
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from boardshop.boards.drawing.response_bar import draw_additions, pick_scale
from boardshop.boards.forms.tone import TryToneForm, list_places
from boardshop.boards.models import Board
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.tone_response import Response, draw_plot
from boardshop.boards.pages.tone_trial import build_trial
from boardshop.boards.pages.tone_words import (
    label_against,
    list_bands,
    say_addition,
    say_against,
    say_band,
    say_db,
    say_hz,
    say_into,
    say_kind,
    say_peak,
    say_pickup,
    say_resonance,
    say_state,
    say_states,
    say_total,
)
from boardshop.boards.plan.read import load_plan
from boardshop.boards.sheet import BoardSheet
from boardshop.core.index import fold, index_plan
from boardshop.core.naming import called
from boardshop.core.plan import Amp, BoardPlan, CableType, Source
from boardshop.core.tone import NOTES
from boardshop.core.tone.comparing import plot_responses
from boardshop.core.tone.later import LaterStage, list_later_stages
from boardshop.core.tone.ohms import say_ohm
from boardshop.core.tone.segments import LEAD, PATCH, Addition
from boardshop.core.tone.states import NamedState, is_active, list_states
from boardshop.core.tone.trying import StateFigures, tell_states
from boardshop.gear.sheets import cable_type_value


@dataclass(frozen=True)
class StateLine:
    """One state in figures; ``against`` are levels at 3 and 5 kHz with what they are held against."""

    name: str
    total: str
    band: str
    into: str
    resonance: str
    peak: str
    against: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Piece:
    ref: str
    name: str
    kind: str
    pf: str
    is_link: bool


@dataclass(frozen=True)
class BarLine:
    """What hangs on the instrument in these states, as a bar and as rows."""

    states: str
    total: str
    bar: SafeString
    pieces: tuple[Piece, ...]


@dataclass(frozen=True)
class LaterLine:
    driver: str
    into: str
    pf: str
    through: str
    from_ohm: str
    corner: str
    at_10_khz: str
    is_low: bool
    drives: bool
    lacks: str


@dataclass(frozen=True)
class LaterLines:
    states: str
    rows: tuple[LaterLine, ...]


@dataclass(frozen=True)
class SourceTones:
    """One instrument; ``response`` is None where nothing can be computed."""

    ref: str
    pickup: str
    """The values of the instrument that its figures count with, in words."""
    is_linked: bool
    is_active: bool
    lines: tuple[StateLine, ...]
    response: Response | None
    bars: tuple[BarLine, ...]
    later: tuple[LaterLines, ...]


def tone_page(board: Board, asked: QueryDict) -> tuple[Page, int]:
    """The page with what the address tries, and its status: 422 where something in it is wrong."""
    board.plan_after = plan = load_plan(board)
    form = make_form(board, plan, asked)
    status = 422 if form.is_asked and not form.is_valid() else 200
    return Page("tone", partial(build_tone, form=form), under="cables"), status


def make_form(board: Board, plan: BoardPlan, asked: QueryDict | None = None) -> TryToneForm:
    cables: dict[str, CableType] = {
        str(one.pk): cable_type_value(one, "") for one in board.shop.cable_types.all()
    }
    return TryToneForm(plan, cables, board.shop.length_unit, asked)


def build_tone(sheet: BoardSheet, state: PageState, form: TryToneForm | None = None) -> dict[str, Any]:
    form = form or make_form(sheet.board, sheet.plan)
    return {
        "tones": list_tones(sheet.plan),
        "against": label_against(),
        "bands": list_bands(),
        "places": _name_places(sheet.plan, form),
        "notes": [words for _rule, words in NOTES],
        "form": form,
        "trial": build_trial(sheet, form),
        "findings": list_findings(sheet.plan, sheet.findings_of("tone"), state),
    }


def _name_places(plan: BoardPlan, form: TryToneForm) -> list[tuple[str, str, bool]]:
    """Where a buffer can stand: its ref, its words, and whether one is tried there."""
    index, chosen = index_plan(plan), form.chosen_buffers
    named = []
    for ref in list_places(plan):
        is_entry = isinstance(index.signal_parts[fold(ref)], Source)
        words = _("at the entry, behind the lead of %s") if is_entry else _("behind %s")
        named.append((ref, words % called(index, ref), ref in chosen))
    return named


def list_tones(plan: BoardPlan) -> list[SourceTones]:
    return [tell_source(plan, source) for source in plan.sources]


def tell_source(plan: BoardPlan, source: Source) -> SourceTones:
    states = list_states(plan)[source.ref]
    figures = tell_states(plan, source)
    return SourceTones(
        ref=source.ref,
        pickup=say_pickup(source),
        is_linked=bool(states[0].first.links),
        is_active=is_active(source),
        lines=tuple(_state_line(source, state, one) for state, one in zip(states, figures, strict=True)),
        response=_tell_response(plan, source, figures),
        bars=_list_bars(plan, source, states),
        later=_list_later(plan, states),
    )


def _state_line(source: Source, state: NamedState, figures: StateFigures) -> StateLine:
    active = is_active(source)
    return StateLine(
        name=say_state(state.name, state.is_scene),
        total=say_total(figures.segment),
        band=say_band(source, figures.segment),
        into=say_into(figures.segment),
        resonance="" if active else say_resonance(figures.state),
        peak="" if active else say_peak(figures.state),
        against=tuple(zip(label_against(), say_against(figures.against), strict=True)),
    )


def _tell_response(plan: BoardPlan, source: Source, figures: Sequence[StateFigures]) -> Response | None:
    plot = plot_responses(plan, source)
    if not plot.curves:
        return None
    peaks = [
        (one.state.resonance_hz, one.state.peak_db)
        for one in figures
        if one.state and one.state.resonance_hz is not None and one.state.peak_db is not None
    ]
    title = _("Response of %(source)s") % {"source": source.ref}
    name = f"response-{source.ref}"
    return draw_plot(plot, title=title, name=name, peaks=list(dict.fromkeys(peaks)))


def _list_bars(plan: BoardPlan, source: Source, states: Sequence[NamedState]) -> tuple[BarLine, ...]:
    """States on which the same things hang are one bar; all bars of an instrument have one scale."""
    alike: dict[tuple[Addition, ...], list[NamedState]] = {}
    for state in states:
        if state.first.additions:
            alike.setdefault(state.first.additions, []).append(state)
    scale = pick_scale([state.first.known_pf for state in states])
    bars = []
    for number, (additions, of) in enumerate(alike.items(), start=1):
        total = say_total(of[0].first)
        words = _("%(states)s: %(total)s on %(source)s") % {
            "states": say_states(of),
            "total": total,
            "source": source.ref,
        }
        svg = draw_additions(additions, scale, words=words, name=f"bar-{source.ref}-{number}")
        pieces = tuple(_piece(plan, one) for one in additions)
        bars.append(BarLine(say_states(of), total, mark_safe(svg), pieces))  # noqa: S308 - escaped there
    return tuple(bars)


def _piece(plan: BoardPlan, one: Addition) -> Piece:
    part = index_plan(plan).signal_parts.get(fold(one.ref))
    return Piece(
        ref=one.ref,
        name=getattr(part, "name", "") or "",
        kind=say_kind(one),
        pf=say_addition(one),
        is_link=part is None,
    )


def _list_later(plan: BoardPlan, states: Sequence[NamedState]) -> tuple[LaterLines, ...]:
    """States with the same stages behind the first are told once."""
    alike: dict[tuple[LaterStage, ...], list[NamedState]] = {}
    for state in states:
        stages = list_later_stages(state)
        if stages:
            alike.setdefault(stages, []).append(state)
    return tuple(
        LaterLines(say_states(of), tuple(_later_line(plan, one) for one in stages))
        for stages, of in alike.items()
    )


def _later_line(plan: BoardPlan, stage: LaterStage) -> LaterLine:
    index = index_plan(plan)
    names = [
        called(index, one.ref) + (_(" (the amp)") if isinstance(one, Amp) else "") for one in stage.stages
    ]
    return LaterLine(
        driver=called(index, stage.driver.ref),
        into=", ".join([*names, *([_("unknown")] if stage.undecided else [])]) or _("nothing"),
        pf=_("unknown") if stage.pf is None else f"{stage.pf} pF",
        through=", ".join(one.ref for one in stage.additions if one.kind in (LEAD, PATCH)),
        from_ohm=_("unknown") if stage.from_ohm is None else say_ohm(round(stage.from_ohm)),
        corner=_say_corner(stage),
        at_10_khz="" if stage.db_at_10_khz is None else f"{say_db(stage.db_at_10_khz)} dB",
        is_low=stage.is_low,
        drives=stage.drives,
        lacks=", ".join(stage.lacks),
    )


def _say_corner(stage: LaterStage) -> str:
    if stage.lacks:
        return _("unknown")
    return _("none") if stage.corner_hz is None else say_hz(stage.corner_hz)


TONE = Page("tone", build_tone, under="cables")
