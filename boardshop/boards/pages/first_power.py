"""The page of the first power-on: each plug with what to expect, what was read, and what that says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _

from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.readings import LoadForm, PlugForm
from boardshop.boards.models import Board, LeadReading, Placement
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.wording import say_ma, say_mains, say_volts
from boardshop.boards.services.readings import readings_by_jack
from boardshop.boards.sheet import BoardSheet
from boardshop.core.findings import Finding, pick_urgent
from boardshop.core.index import fold
from boardshop.core.plan import Supply, Venue
from boardshop.core.power.first_power import PowerStep, list_power_steps, tell_apart
from boardshop.core.power.readings import (
    AS_PLANNED,
    OFF_PLAN,
    STATES,
    Reading,
    judge_load,
    judge_plug,
    name_state,
)

MAINS_RULES = ("P20", "P21")
READY = (AS_PLANNED, OFF_PLAN)
"""With anything worse the pedal stays off the plug, and there is no current to read."""


@dataclass(frozen=True)
class Verdict:
    """What was found of one reading: the state, its words, the findings, and the worst for the mark."""

    state: str
    words: str
    findings: tuple[Finding, ...]

    @property
    def worst(self) -> Finding | None:
        return next((one for one in self.findings if one.severity != "advice"), None)


@dataclass(frozen=True)
class StepRow:
    """One plug as the page shows it; `plug` and `load` are the readings that count, None where none does."""

    step: PowerStep
    number: int | str
    name: str
    expected: str
    stands: str
    draws: str
    plug: LeadReading | None
    plug_verdict: Verdict
    load: LeadReading | None
    load_verdict: Verdict | None
    earlier_feed: tuple[str, ...]
    """Why the last reading counts no more: what is not as it was when it was taken."""
    log: list[LeadReading]
    plug_form: EditForm
    load_form: EditForm | None
    keeps_ma: int | None
    """The reading that may become the unit's measured draw."""
    has_unit: bool
    planned: Finding | None
    """The worst that is found of the feed as it is planned, where it must be put right."""

    @property
    def head(self) -> Verdict:
        """The worse of what was read at the open plug and with the pedal on it."""
        if self.load_verdict is None:
            return self.plug_verdict
        return min(self.plug_verdict, self.load_verdict, key=lambda one: STATES.index(one.state))

    @property
    def anchor(self) -> str:
        return step_key(self.step.end)

    @property
    def outlets(self) -> str:
        return " + ".join(self.step.outlets)

    @property
    def folds_plug(self) -> bool:
        """Whether the plug is settled, so that its form need not stand open."""
        return self.plug is not None and self.plug_verdict.state in READY and not self.plug_form.is_bound

    @property
    def folds_load(self) -> bool:
        return self.load is not None and self.load_form is not None and not self.load_form.is_bound


@dataclass(frozen=True)
class SupplyPart:
    """One supply, what its mains side asks for, and the plugs of its outlets."""

    supply: Supply
    mains: str
    findings: list[Finding]
    rows: list[StepRow] = field(default_factory=list)


@dataclass(frozen=True)
class Kept:
    """What is stored of a board's readings: by pedal key and jack, with the pedals' keys and units by ref."""

    readings: dict[tuple[int, str], list[LeadReading]]
    pedals: dict[str, tuple[int, int | None]]

    def of(self, step: PowerStep) -> list[LeadReading]:
        key, _unit = self.pedals.get(fold(step.fed.pedal.ref), (0, None))
        return self.readings.get((key, fold(step.jack.name)), [])

    def has_unit(self, step: PowerStep) -> bool:
        return self.pedals.get(fold(step.fed.pedal.ref), (0, None))[1] is not None


def step_key(end: str) -> str:
    """A point in an id would have to be escaped wherever it is looked for."""
    return f"step-{end.replace('.', '-')}"


def plug_key(end: str) -> str:
    return f"plug-{end.replace('.', '-')}"


def load_key(end: str) -> str:
    return f"load-{end.replace('.', '-')}"


def build_first_power(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    steps = list_power_steps(sheet.plan, sheet.findings)
    kept = read_kept(sheet.board)
    loads = _loads_that_count(steps, kept)
    bars = _find_bars(sheet)
    rows = [_make_row(sheet, state, kept, step, loads, bars.get(fold(step.end))) for step in steps]
    parts = [
        SupplyPart(
            supply=supply,
            mains=say_mains(supply.mains),
            findings=[f for f in sheet.findings if f.rule in MAINS_RULES and supply.ref in f.subjects],
            rows=[row for row in rows if row.step.supply == supply.ref],
        )
        for supply in sheet.plan.supplies
    ]
    return {
        "parts": parts,
        "rows": rows,
        "metered": sum(row.plug is not None for row in rows),
        "states": _count_states(rows),
        "venue": say_venue(sheet.plan.venue),
        "turned": list_turned(steps),
        "unfed": sheet.power.unfed,
        "findings": list_findings(sheet.plan, sheet.findings_of("power", "grounds"), state),
    }


def read_kept(board: Board) -> Kept:
    """In two queries, however many there are."""
    pedals = Placement.objects.filter(board=board).values_list("ref", "pk", "unit_id")
    return Kept(
        readings_by_jack(LeadReading.objects.filter(board=board)),
        {fold(ref): (pk, unit) for ref, pk, unit in pedals},
    )


def list_turned(steps: Sequence[PowerStep]) -> list[tuple[str, str]]:
    """Outlets whose voltage a hand can change, each once, with what it is to stand at."""
    taps = [tap for step in steps for tap in step.pairing.taps if tap.is_selectable or tap.outlet.sag]
    return list({tap.ref: say_volts(tap.setting_mv) for tap in taps}.items())


def say_venue(venue: Venue | None) -> str:
    """`230 V, 50 Hz`; blank where no venue is recorded."""
    if venue is None:
        return ""
    hz = _("frequency unknown") if venue.hz is None else f"{venue.hz} Hz"
    return f"{say_volts(venue.mv)}, {hz}"


def say_expected(step: PowerStep) -> str:
    """`9 V DC, centre-negative`; where an open plug reads higher than its setting, what it may read."""
    kind = step.current.upper() if step.current else _("AC or DC unknown")
    parts = [f"{say_volts(step.expected_mv)} {kind}"]
    if step.span is not None and step.reads_higher:
        figures = {"low": say_volts(round(step.span.open_low)), "high": say_volts(round(step.span.open_high))}
        parts.append(_("%(low)s to %(high)s while nothing is plugged in") % figures)
    if step.current != "ac" and not step.pairing.is_keyed:
        unknown = _("polarity unknown until it is metered")
        parts.append(step.polarity or unknown)
    return ", ".join(parts)


def say_stands(step: PowerStep) -> str:
    """`8.5 V to 9.6 V DC, centre-negative`: what the jack allows; unknown where nobody recorded it."""
    jack = step.jack
    kind = jack.current.upper() if jack.current else _("AC or DC unknown")
    low, high = (say_volts(mv) if mv is not None else _("unknown") for mv in (jack.min, jack.max))
    if jack.min is None and jack.max is None:
        parts = [f"{_('range unknown, labelled %s') % say_volts(jack.nominal)} {kind}"]
    else:
        parts = [f"{_('%(low)s to %(high)s') % {'low': low, 'high': high}} {kind}"]
    if jack.current != "ac" and not step.pairing.is_keyed:
        parts.append(jack.polarity or _("polarity unknown"))
    return ", ".join(parts)


def say_draws(step: PowerStep) -> str:
    """`rated 20 mA, measured 18 mA, outlet up to 100 mA, shared with P8.DC`."""
    jack = step.jack
    parts = [_("rated %s") % say_ma(jack.rated)]
    if jack.measured is not None:
        parts.append(_("measured %s") % say_ma(jack.measured))
    limit = _("limit unknown") if step.limit_ma is None else _("outlet up to %s") % say_ma(step.limit_ma)
    shared = [_("shared with %s") % ", ".join(step.shares_with)] if step.shares_with else []
    return ", ".join([*parts, limit, *shared])


def say_state(state: str) -> str:
    """A state in the reader's language."""
    words = {
        "do not plug": _("do not plug"),
        "put right first": _("put right first"),
        "cannot be told": _("cannot be told"),
        "not as planned": _("not as planned"),
        "not metered": _("not metered"),
        "as planned": _("as planned"),
    }
    return words[state]


def _count_states(rows: Sequence[StepRow]) -> str:
    """`1 do not plug, 2 as planned`, worst first."""
    counts = {state: sum(row.head.state == state for row in rows) for state in STATES}
    return ", ".join(f"{n} {say_state(state)}" for state, n in counts.items() if n)


def _counting(step: PowerStep, readings: Sequence[LeadReading], column: str) -> LeadReading | None:
    """The newest with this column, if it was not taken back and nothing has changed since."""
    last = _last(readings, column)
    return last if last is not None and not tell_apart(last.expects, step.expects) else None


def _last(readings: Sequence[LeadReading], column: str) -> LeadReading | None:
    standing = (one for one in readings if one.taken_back_at is None)
    return next((one for one in standing if getattr(one, column) is not None), None)


def _loads_that_count(steps: Sequence[PowerStep], kept: Kept) -> dict[str, int]:
    found = {step.end: _counting(step, kept.of(step), "load_ma") for step in steps}
    return {end: one.load_ma for end, one in found.items() if one is not None and one.load_ma is not None}


def _make_row(
    sheet: BoardSheet,
    state: PageState,
    kept: Kept,
    step: PowerStep,
    loads: Mapping[str, int],
    planned: Finding | None,
) -> StepRow:
    readings, pedal = kept.of(step), step.fed.pedal
    plug, load = _counting(step, readings, "mv"), _counting(step, readings, "load_ma")
    last = _last(readings, "mv")
    plug_verdict = _judge_plug(sheet, step, plug)
    is_ready = plug is not None and plug_verdict.state in READY
    return StepRow(
        step=step,
        number=sheet.numbers.get(pedal.ref, "–"),
        name=pedal.name or pedal.kind,
        expected=say_expected(step),
        stands=say_stands(step),
        draws=say_draws(step),
        plug=plug,
        plug_verdict=plug_verdict,
        load=load,
        load_verdict=_judge_load(sheet, step, load, loads),
        earlier_feed=tell_apart(last.expects, step.expects) if last is not None else (),
        log=[one for one in readings if one not in (plug, load)],
        plug_form=state.form(plug_key(step.end), lambda: PlugForm(key=plug_key(step.end))),
        load_form=state.form(load_key(step.end), lambda: LoadForm(key=load_key(step.end)))
        if is_ready
        else state.take(load_key(step.end)),
        keeps_ma=load.load_ma if load and load.load_ma and load.load_ma != step.jack.measured else None,
        has_unit=kept.has_unit(step),
        planned=planned,
    )


def _find_bars(sheet: BoardSheet) -> dict[str, Finding]:
    """The worst of what must be put right about each feed as it is planned, by what the finding names."""
    bars: dict[str, Finding] = {}
    for finding in pick_urgent(sheet.findings_of("power")):
        for subject in finding.subjects:
            bars.setdefault(fold(subject), finding)
    return bars


def _judge_plug(sheet: BoardSheet, step: PowerStep, plug: LeadReading | None) -> Verdict:
    reading = Reading(plug.mv, plug.polarity or None) if plug is not None else Reading()
    return _make_verdict(sheet, judge_plug(step, reading), is_read=plug is not None)


def _judge_load(
    sheet: BoardSheet, step: PowerStep, load: LeadReading | None, loads: Mapping[str, int]
) -> Verdict | None:
    if load is None:
        return None
    return _make_verdict(sheet, judge_load(step, load.load_ma, loads), is_read=True)


def _make_verdict(sheet: BoardSheet, findings: tuple[Finding, ...], *, is_read: bool) -> Verdict:
    state = name_state(findings, is_read=is_read)
    return Verdict(state, say_state(state), sheet.in_shop_unit(findings))


FIRST_POWER = Page("first-power", build_first_power, under="power")
