"""Where each pedal stands: its number in the signal, the cable before and after it, and what feeds it.

What a phone on stage, a build sheet and a label ask first; every one of them reads it here.
"""

from dataclasses import dataclass

from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.numbering import number_pedals
from boardshop.core.order.paths import signal_paths
from boardshop.core.plan import BoardPlan, Feed, Link, OutletSetting, Pedal, PowerJack


@dataclass(frozen=True, slots=True)
class Hop:
    """A cable at one of the pedal's jacks and what is at its far end."""

    link: str
    jack: str
    """The pedal's own jack, `IN`."""
    far_end: str
    """`P6.OUT`."""
    far_name: str
    """Name of the part there, or its ref when it has none."""
    carries: str
    length_mm: int | None
    """Of a given or made cable; None where it is still to be cut."""


@dataclass(frozen=True, slots=True)
class Supplied:
    """What feeds one power jack; `outlets` is empty when nothing does, None stands for unknown."""

    jack: str
    outlets: tuple[str, ...]
    settings_mv: tuple[int | None, ...]
    current: str | None
    polarity: str | None
    ground_pole: str | None
    draw_ma: int | None
    is_measured: bool
    adapters: tuple[str, ...]
    lead_mm: int | None
    shared_with: tuple[str, ...]
    """Other jacks of the same chain or outlet."""


@dataclass(frozen=True, slots=True)
class Standing:
    """One pedal as somebody in the dark asks for it; `number` is None where it is on no path."""

    number: int | None
    ref: str
    name: str
    kind: str
    before: tuple[Hop, ...]
    after: tuple[Hop, ...]
    supplied: tuple[Supplied, ...]
    settings: str | None


@dataclass(frozen=True, slots=True)
class ShortCut:
    """How to play without the board: the lead out of the instrument goes straight to the amp."""

    lead: str
    amp: str


def trace_pedals(plan: BoardPlan) -> tuple[Standing, ...]:
    """Every pedal, in signal order; those on no path follow in the plan's order."""
    numbers = number_pedals(plan)
    index = index_plan(plan)
    last = len(numbers)
    ordered = sorted(plan.pedals, key=lambda pedal: numbers.get(pedal.ref, last + 1))
    return tuple(_standing(index, pedal, numbers.get(pedal.ref)) for pedal in ordered)


def find_short_cut(plan: BoardPlan) -> ShortCut | None:
    """The panic path from the first instrument to the first amp that the signal reaches; None without one."""
    for path in signal_paths(plan):
        if path.start is not None and path.end is not None and not path.in_loop:
            return ShortCut(lead=path.links[0].ref, amp=path.end)
    return None


def _standing(index: PlanIndex, pedal: Pedal, number: int | None) -> Standing:
    ends = [fold(f"{pedal.ref}.{jack.name}") for jack in pedal.jacks]
    return Standing(
        number=number,
        ref=pedal.ref,
        name=pedal.name,
        kind=pedal.kind,
        before=tuple(_hop(index, link, link.target) for end in ends for link in index.links_to.get(end, ())),
        after=tuple(_hop(index, link, link.source) for end in ends for link in index.links_from.get(end, ())),
        supplied=tuple(_supplied(index, pedal, jack) for jack in pedal.power),
        settings=pedal.settings,
    )


def _hop(index: PlanIndex, link: Link, own: str) -> Hop:
    far = link.source if own == link.target else link.target
    ref = split_end(far)[0]
    part = index.pedals.get(fold(ref))
    return Hop(
        link=link.ref,
        jack=split_end(own)[1],
        far_end=far,
        far_name=part.name if part is not None and part.name else ref,
        carries=link.carries,
        length_mm=link.made or link.length,
    )


def _supplied(index: PlanIndex, pedal: Pedal, jack: PowerJack) -> Supplied:
    own = f"{pedal.ref}.{jack.name}"
    feed = index.feed_of_jack.get(fold(own))
    return Supplied(
        jack=jack.name,
        outlets=feed.outlets if feed else (),
        settings_mv=_settings(index, feed) if feed else (),
        current=jack.current,
        polarity=jack.polarity,
        ground_pole=jack.ground_pole,
        draw_ma=jack.rated if jack.measured is None else jack.measured,
        is_measured=jack.measured is not None,
        adapters=feed.adapters if feed else (),
        lead_mm=feed.lead.length if feed and feed.lead else None,
        shared_with=_shared_with(index, feed, own) if feed else (),
    )


def _settings(index: PlanIndex, feed: Feed) -> tuple[int | None, ...]:
    chosen = feed.settings or (None,) * len(feed.outlets)
    return tuple(
        mv if mv is not None else only_voltage(index.outlets[fold(name)][1].settings)
        for name, mv in zip(feed.outlets, chosen, strict=True)
    )


def only_voltage(settings: tuple[OutletSetting, ...]) -> int | None:
    """The voltage of an outlet that has just one; None where there is a choice or nobody recorded it."""
    if len(settings) == 1 and settings[0].min_mv == settings[0].max_mv:
        return settings[0].min_mv
    return None


def _shared_with(index: PlanIndex, feed: Feed, own: str) -> tuple[str, ...]:
    feeds = [other for outlet in feed.outlets for other in index.feeds_of_outlet[fold(outlet)]]
    jacks = dict.fromkeys(jack for other in feeds for jack in other.jacks)
    return tuple(jack for jack in jacks if fold(jack) != fold(own))
