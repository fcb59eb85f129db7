"""The power page: what every outlet carries, and for each power jack what it needs and what feeds it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from boardshop.boards.catalogue import catalogue_of
from boardshop.boards.forms.edits import Choices, EditForm, OfferedField
from boardshop.boards.forms.ends import AddSupplyForm
from boardshop.boards.forms.feeds import ChainForm, FeedForm, MoveFeedForm, write_choice
from boardshop.boards.pages.beside import Beside, BySubject
from boardshop.boards.pages.cables import plug_keys
from boardshop.boards.pages.draws import Measuring, list_measurings
from boardshop.boards.pages.faces import FaceDrawing, list_waiting
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.goals import GoalWords, say_choice, say_fed_by
from boardshop.boards.pages.metered import list_barred
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.wording import say_draw, say_need, say_offer, say_volts
from boardshop.boards.sheet import BoardSheet
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.plan import BoardPlan, Feed, Outlet, Pedal, PowerJack, Supply
from boardshop.core.power import Choice, list_choices
from boardshop.core.trace import series_mv


@dataclass(frozen=True)
class OutletLine:
    """One outlet with its load."""

    ref: str
    offer: str
    group: str
    setting: str
    jacks: tuple[str, ...]
    load_ma: int
    limit_ma: int | None
    percent: float | None
    is_used: bool
    is_partial: bool


@dataclass(frozen=True)
class SupplyBlock:
    """One supply, its outlets, and the sums of its groups and of the whole."""

    supply: Supply
    total: Any
    groups: tuple[Any, ...]
    outlets: tuple[OutletLine, ...]


@dataclass(frozen=True)
class Offer:
    """One outlet at one setting as a choice for the opened jack."""

    choice: Choice
    value: str
    words: str
    group: str
    says: str
    chosen: bool

    @property
    def feeds(self) -> str:
        """The other jacks on the outlet; blank where it is free."""
        return ", ".join(self.choice.feeds)


@dataclass(frozen=True)
class JackRow:
    """One power jack: its need and draw, its feed, the choice of another one, and what is found about it."""

    ref: str
    number: int | str
    name: str
    need: str
    draw: str
    feed: Feed | None
    fed_by: str
    together: str
    """The sum of outlets in series; blank where they are not, or one is unknown."""
    at_pedal: str
    move: EditForm
    beside: Beside
    metered: str
    """What the plug's last meter reading says where it bars the pedal; blank where none does."""
    is_open: bool

    @property
    def memory(self) -> Hashable | None:
        """All that a closed row shows; see templatetags/remembered.py."""
        if self.move.is_bound or self.is_open:
            return None
        needs = (self.ref, self.number, self.name, self.need, self.draw)
        fed = (self.feed, self.fed_by, self.together, self.at_pedal, self.metered)
        outlet = self.move["outlet"]
        assert isinstance(outlet.field, OfferedField)
        choices = tuple((str(value), str(words)) for value, words in outlet.field.widget.choices)
        return needs, fed, self.beside.memory, self.move.key, outlet.value(), choices

    @property
    def anchor(self) -> str:
        return feed_key(self.ref)

    @property
    def chained(self) -> tuple[str, ...]:
        """The other jacks on its lead."""
        return tuple(jack for jack in self.feed.jacks if jack != self.ref) if self.feed else ()


def feed_key(end: str) -> str:
    """The name of a jack's form; a point in an id would have to be escaped wherever it is looked for."""
    return f"feed-{end.replace('.', '-')}"


def chain_key(end: str) -> str:
    return f"chain-{end.replace('.', '-')}"


def move_key(end: str) -> str:
    return f"move-{end.replace('.', '-')}"


def build_power(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    opened = open_jack(sheet, state)
    catalogue = catalogue_of(sheet.board)
    catalogue.read("supplies", "supply units", "plugs")
    findings = list_findings(sheet.plan, sheet.findings_of("power", "grounds"), state)
    by_subject = BySubject(findings, {finding.rule for finding in sheet.power.findings})
    drawing = FaceDrawing(sheet, by_subject)
    rows = _RowMaker(sheet, state, by_subject, opened).list_rows()
    context: dict[str, Any] = {
        "faces": drawing.draw(),
        "waiting": list_waiting(sheet, drawing),
        "rows": rows,
        "opened": next((row for row in rows if row.is_open), None),
        "power": sheet.power,
        "headroom": sheet.plan.rules.headroom_percent,
        "planned": sheet.plan.rules.planned_percent,
        "add_supply": state.form(
            "add-supply", lambda: AddSupplyForm(key="add-supply", gear=catalogue.supply_choices())
        ),
        "findings": findings,
    }
    return context | (_opened_forms(sheet, state, context["opened"]) if context["opened"] else {})


def open_jack(sheet: BoardSheet, state: PageState) -> str:
    """The jack whose form stands open: the one asked for, else the first that nothing feeds."""
    jacks = {fold(f"{pedal.ref}.{jack.name}") for pedal in sheet.plan.pedals for jack in pedal.power}
    if fold(state.opened) in jacks:
        return state.opened
    waiting = {fold(end) for end in sheet.power.unfed}
    ends = (f"{pedal.ref}.{jack.name}" for pedal in sheet.pedals for jack in pedal.power)
    return next((end for end in ends if fold(end) in waiting), "")


def _opened_forms(sheet: BoardSheet, state: PageState, row: JackRow) -> dict[str, Any]:
    form = state.form(feed_key(row.ref), lambda: fresh_feed(sheet, row.ref))
    assert isinstance(form, FeedForm)
    form.offer_second(outlet_choices(sheet))
    adapters = tuple(a for a in form["adapters"].value() or () if a in ("reverser", "converter"))
    chosen = form["outlet"].value()
    offers = [_offer(sheet, chosen, choice) for choice in list_choices(sheet.plan, row.ref, adapters)]
    return {
        "offers": [offer for offer in offers if not offer.feeds],
        "shared_offers": [offer for offer in offers if offer.feeds],
        "offers_say": _said_of_all(offers),
        "feed_form": form,
        "chain_form": _chain_form(sheet, state, row),
    }


def _said_of_all(offers: Sequence[Offer]) -> str:
    """What is said of most offers, to be said once: as a rule a value of the pedal that nobody recorded."""
    said = Counter(offer.says for offer in offers if offer.says)
    words, times = said.most_common(1)[0] if said else ("", 0)
    return words if times > len(offers) / 2 else ""


def _chain_form(sheet: BoardSheet, state: PageState, row: JackRow) -> EditForm | None:
    """None where there is no lead to hang on."""
    leads: Choices = [
        (feed.jacks[0], f"{say_fed_by(feed)}: {', '.join(feed.jacks)}")
        for feed in sheet.plan.feeds
        if feed.jacks and row.ref not in feed.jacks
    ]
    key = chain_key(row.ref)
    form = state.form(key, lambda: ChainForm(key=key))
    assert isinstance(form, ChainForm)
    form.offer_leads(leads)
    return form if leads or form.is_bound else None


def fresh_feed(sheet: BoardSheet, end: str) -> FeedForm:
    """The form of a jack's feed as it is now."""
    catalogue = catalogue_of(sheet.board)
    feed = index_plan(sheet.plan).feed_of_jack.get(fold(end))
    values = _feed_values(feed, plug_keys(sheet.plan, catalogue)) if feed else {}
    unit = sheet.board.shop.length_unit
    return FeedForm(key=feed_key(end), unit=unit, plugs=catalogue.plugs, initial=values)


def outlet_choices(sheet: BoardSheet) -> Choices:
    """Every outlet at each of its fixed settings, to join with another; free ones first."""
    fed = {row.ref: row.feeds for row in sheet.power.outlets}
    outlets = [(f"{s.ref}.{outlet.name}", outlet) for s in sheet.plan.supplies for outlet in s.outlets]
    outlets.sort(key=lambda one: bool(fed[one[0]]))
    return [
        (write_choice(ref, mv), say_choice(ref, mv, limit, fed[ref]))
        for ref, outlet in outlets
        for mv, limit in _offered(outlet)
    ]


def _is_settable(outlet: Outlet) -> bool:
    settings = outlet.settings
    return len(settings) > 1 or any(setting.min_mv != setting.max_mv for setting in settings)


def _offered(outlet: Outlet) -> Iterable[tuple[int | None, int | None]]:
    """Its voltages, the least of a range, each with its limit; None where none is recorded."""
    limits: dict[int | None, int | None] = {}
    for setting in outlet.settings:
        limits.setdefault(setting.min_mv, setting.max_ma)
    return limits.items() or ((None, None),)


def _feed_values(feed: Feed, keys: Any) -> dict[str, Any]:
    settings = feed.settings or (None,) * len(feed.outlets)
    chosen = [write_choice(outlet, mv) for outlet, mv in zip(feed.outlets, settings, strict=True)]
    lead = feed.lead
    return {
        "outlet": chosen[0],
        "second": chosen[1] if len(chosen) > 1 else "",
        "adapters": list(feed.adapters),
        "pinned": feed.pinned,
        "length": lead.length if lead else None,
        "awg": lead.awg if lead else None,
        "mm2": f"{lead.mm2:g}" if lead and lead.mm2 is not None else None,
        "connector": (lead.connector or "") if lead else "",
        "plug": keys.get(lead.plug, "") if lead else "",
    }


def _offer(sheet: BoardSheet, chosen: str | None, choice: Choice) -> Offer:
    supply, outlet = index_plan(sheet.plan).outlets[fold(choice.outlet)]
    outlet_chosen, _, setting = (chosen or "").partition("@")
    return Offer(
        choice=choice,
        value=write_choice(choice.outlet, choice.setting_mv),
        words=f"{say_volts(choice.setting_mv)} {(outlet.current or '?').upper()}",
        group=f"{supply.ref}/{outlet.group}" if outlet.group is not None else "",
        says=choice.findings[0].message if choice.findings else "",
        chosen=fold(choice.outlet) == fold(outlet_chosen) and setting in ("", str(choice.setting_mv)),
    )


class _RowMaker:
    """What the rows of one board's power jacks are made from."""

    def __init__(self, sheet: BoardSheet, state: PageState, found: BySubject, opened: str) -> None:
        self.sheet, self.state, self.found, self.opened = sheet, state, found, opened
        self.measured = list_measurings(sheet.board)
        self.barred = list_barred(sheet)
        self.drops = {fold(row.to): row for row in sheet.power.drops}
        self.words = GoalWords(sheet)

    def list_rows(self) -> list[JackRow]:
        return [self._row(pedal, jack) for pedal in self.sheet.pedals for jack in pedal.power]

    def _row(self, pedal: Pedal, jack: PowerJack) -> JackRow:
        ref = f"{pedal.ref}.{jack.name}"
        plan = self.sheet.plan
        feed, drop = index_plan(plan).feed_of_jack.get(fold(ref)), self.drops.get(fold(ref))
        measured = self.measured.get(fold(ref), Measuring(None, ""))
        return JackRow(
            ref=ref,
            number=self.sheet.numbers.get(pedal.ref, pedal.ref),
            name=pedal.name or pedal.kind,
            need=say_need(jack),
            draw=say_draw(jack, measured.on, measured.by),
            feed=feed,
            fed_by=say_fed_by(feed) if feed else "",
            together=_sum_of(plan, feed) if feed else "",
            at_pedal=say_volts(drop.at_pedal_mv) if drop and drop.at_pedal_mv is not None else "",
            move=self._move_form(ref, feed),
            beside=self.found.of_jack(ref),
            metered=self.barred.get(fold(ref), ""),
            is_open=fold(ref) == fold(self.opened),
        )

    def _move_form(self, ref: str, feed: Feed | None) -> EditForm:
        key = move_key(ref)
        form = self.state.form(key, lambda: self.words.make_form(key, ref, feed))
        assert isinstance(form, MoveFeedForm)
        self.words.offer(form, ref, feed)
        return form


def _sum_of(plan: BoardPlan, feed: Feed) -> str:
    total_mv = series_mv(plan, feed)
    return "" if total_mv is None else say_volts(total_mv)


def list_blocks(sheet: BoardSheet) -> list[SupplyBlock]:
    return [_block(sheet, supply) for supply in sheet.plan.supplies]


def _block(sheet: BoardSheet, supply: Supply) -> SupplyBlock:
    return SupplyBlock(
        supply=supply,
        total=next(row for row in sheet.power.supplies if row.ref == supply.ref),
        groups=tuple(row for row in sheet.power.groups if row.ref.startswith(f"{supply.ref}/")),
        outlets=tuple(_outlet_line(sheet, supply, outlet) for outlet in supply.outlets),
    )


def _outlet_line(sheet: BoardSheet, supply: Supply, outlet: Outlet) -> OutletLine:
    row = next(row for row in sheet.power.outlets if row.ref == f"{supply.ref}.{outlet.name}")
    pedals = index_plan(sheet.plan).pedals
    names = [(end, pedals[fold(split_end(end)[0])]) for end in row.feeds]
    return OutletLine(
        ref=row.ref,
        offer=say_offer(outlet),
        group=outlet.group or "",
        setting=say_volts(row.setting_mv) if row.feeds and _is_settable(outlet) else "",
        jacks=tuple(f"{pedal.name or pedal.kind} {end}" for end, pedal in names),
        load_ma=row.load_ma,
        limit_ma=row.limit_ma,
        percent=row.load_percent,
        is_used=bool(row.feeds),
        is_partial=row.is_partial,
    )


POWER = Page("power", build_power)
