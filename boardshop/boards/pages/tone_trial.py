"""What if: the tone of a board with other cables, other lengths or buffers, beside the board as it is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from boardshop.boards.forms.tone import TryToneForm
from boardshop.boards.pages.tone_response import Response, draw_plot
from boardshop.boards.pages.tone_words import (
    label_against,
    say_against,
    say_band,
    say_peak,
    say_resonance,
    say_state,
    say_total,
)
from boardshop.boards.sheet import BoardSheet
from boardshop.core.findings import Finding
from boardshop.core.plan import BoardPlan, Source
from boardshop.core.tone.comparing import plot_change
from boardshop.core.tone.states import is_active
from boardshop.core.tone.trying import (
    AddedBuffer,
    NothingBehind,
    OtherCable,
    OtherLength,
    StateChange,
    StateFigures,
    ToneChange,
    ToneTrial,
    TooShort,
    try_tone,
)


@dataclass(frozen=True)
class Figure:
    """One figure of a state as it is and as it would be."""

    before: str
    after: str

    @property
    def differs(self) -> bool:
        return self.before != self.after


@dataclass(frozen=True)
class ChangeLine:
    """A state: its total, band, resonance, peak, and its levels as `say_against` lists them."""

    name: str
    total: Figure
    band: Figure
    resonance: Figure
    peak: Figure
    against: tuple[tuple[str, Figure], ...]


@dataclass(frozen=True)
class SourceChanges:
    ref: str
    is_active: bool
    lines: tuple[ChangeLine, ...]
    response: Response | None


@dataclass(frozen=True)
class TrialView:
    """What was tried, in words; ``address`` is the query that says it."""

    says: tuple[str, ...]
    address: str
    sources: tuple[SourceChanges, ...]
    settles: tuple[Finding, ...]
    brings: tuple[Finding, ...]
    too_short: tuple[TooShort, ...]
    touches_cables: bool
    touches_order: bool

    @property
    def only_settles(self) -> tuple[Finding, ...]:
        """Without those that only say something else then."""
        return _without(self.settles, self.brings)

    @property
    def only_brings(self) -> tuple[Finding, ...]:
        return _without(self.brings, self.settles)

    @property
    def changed_rules(self) -> tuple[str, ...]:
        """Rules that speak of the same thing before and after, in other words."""
        gone = set(self.only_settles)
        return tuple(dict.fromkeys(one.rule for one in self.settles if one not in gone))


def _without(found: tuple[Finding, ...], others: tuple[Finding, ...]) -> tuple[Finding, ...]:
    about = {(one.rule, one.subjects) for one in others}
    return tuple(one for one in found if (one.rule, one.subjects) not in about)


def build_trial(sheet: BoardSheet, form: TryToneForm) -> TrialView | None:
    """None where nothing is tried or something in the form is wrong."""
    if not form.is_asked or not form.is_valid():
        return None
    changes = form.changes()
    try:
        trial = try_tone(sheet.plan, changes)
    except NothingBehind as lacking:
        form.add_error("buffer", _("Nothing is linked behind %s yet; link it on first.") % lacking)
        return None
    return TrialView(
        says=tuple(say_change(change) for change in changes),
        address=form.address,
        sources=tuple(_tell_source(sheet.plan, trial, source) for source in sheet.plan.sources),
        settles=sheet.in_shop_unit(trial.settles),
        brings=sheet.in_shop_unit(trial.brings),
        too_short=trial.too_short,
        touches_cables=any(isinstance(change, OtherCable | OtherLength) for change in changes),
        touches_order=any(isinstance(change, AddedBuffer) for change in changes),
    )


def say_change(change: ToneChange) -> str:
    """`W3 of Slim patch`, `W3 of 450 mm`, `a buffer behind P3`; lengths in mm, as core says them."""
    if isinstance(change, OtherCable):
        link = change.link or _("every signal cable")
        return _("%(link)s of %(cable)s") % {"link": link, "cable": change.cable.name}
    if isinstance(change, OtherLength):
        return _("%(link)s %(mm)d mm long") % {"link": change.link, "mm": change.length_mm}
    return _("a buffer behind %s") % change.behind


def _tell_source(plan: BoardPlan, trial: ToneTrial, source: Source) -> SourceChanges:
    lines = tuple(_line(source, change) for change in trial.states[source.ref])
    plot = plot_change(plan, trial.plan, source)
    response = None
    if plot.curves:
        title = _("Response of %(source)s, all bypassed, now and then") % {"source": source.ref}
        response = draw_plot(plot, title=title, name=f"trial-{source.ref}")
    return SourceChanges(source.ref, is_active(source), lines, response)


def _line(source: Source, change: StateChange) -> ChangeLine:
    both = (change.before, change.after)
    levels = zip(*(say_against(one.against) for one in both), strict=True)
    return ChangeLine(
        name=say_state(change.name, change.is_scene),
        total=_pair(both, lambda one: say_total(one.segment)),
        band=_pair(both, lambda one: say_band(source, one.segment)),
        resonance=_pair(both, lambda one: say_resonance(one.state)),
        peak=_pair(both, lambda one: say_peak(one.state)),
        against=tuple(zip(label_against(), (Figure(*pair) for pair in levels), strict=True)),
    )


def _pair(both: tuple[StateFigures, StateFigures], say: Callable[[StateFigures], str]) -> Figure:
    return Figure(say(both[0]), say(both[1]))
