"""Where each pedal stands: its number in the signal, the cable before and after it, and what feeds it.

What a phone on stage, a build sheet and a label ask first; every one of them reads it here.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from boardshop.core.findings import Finding, pick_urgent, sort_findings
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.numbering import number_pedals
from boardshop.core.order.paths import signal_paths
from boardshop.core.plan import BoardPlan, DcLead, Feed, Link, OutletSetting, Pedal, PowerJack
from boardshop.core.vocabulary import NEVER_KEPT


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
    made_id: str | None = None
    """The id on its labels, where it is in the register."""


@dataclass(frozen=True, slots=True)
class Given:
    """What one outlet gives, before any adapter in the lead; None stands for unknown."""

    outlet: str
    setting_mv: int | None
    current: str | None
    polarity: str | None


@dataclass(frozen=True, slots=True)
class Supplied:
    """What feeds one power jack; `given` is empty when nothing does, None stands for unknown."""

    jack: str
    given: tuple[Given, ...]
    current: str | None
    nominal_mv: int | None
    polarity: str | None
    ground_pole: str | None
    draw_ma: int | None
    is_measured: bool
    adapters: tuple[str, ...]
    lead: DcLead | None
    """What is recorded of the lead; None where nothing is, or nothing feeds the jack."""
    shared_with: tuple[str, ...]
    """Other jacks of the same chain or outlet."""

    @property
    def total_mv(self) -> int | None:
        """What outlets in series give together; None where they are not, or a voltage of one is unknown."""
        return _sum_in_series(self.given, self.adapters)

    @property
    def lead_mm(self) -> int | None:
        return self.lead.length if self.lead else None

    @property
    def outlets(self) -> tuple[str, ...]:
        return tuple(one.outlet for one in self.given)


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
    findings: tuple[Finding, ...]
    """The urgent ones about the pedal, its jacks or the outlets that feed it, worst first; then what is not
    known of its power jacks or of those outlets."""


@dataclass(frozen=True, slots=True)
class ShortCut:
    """How to play without the board: the lead out of the instrument goes straight to the amp."""

    lead: str
    amp: str
    barred_by: tuple[Finding, ...]
    """What can hurt somebody or destroy gear at this very amp: cured first, whatever the hurry."""


def trace_pedals(plan: BoardPlan, findings: Iterable[Finding] = ()) -> tuple[Standing, ...]:
    """Every pedal, in signal order; those on no path follow in the plan's order.

    `findings` are the report's; each pedal takes the urgent ones that concern it, then the open `unknown`
    ones about its feed, so that a feed nobody can judge never looks like a good one.
    """
    findings = tuple(findings)
    told = (pick_urgent(findings), _pick_unknown(findings))
    numbers = number_pedals(plan)
    index = index_plan(plan)
    last = len(numbers)
    ordered = sorted(plan.pedals, key=lambda pedal: numbers.get(pedal.ref, last + 1))
    return tuple(_standing(index, pedal, numbers.get(pedal.ref), *told) for pedal in ordered)


def find_short_cut(plan: BoardPlan, findings: Iterable[Finding] = ()) -> ShortCut | None:
    """The panic path from the first instrument to the first amp that the signal reaches; None without one.

    An amp that nothing bars goes before one with a `danger` or `damage` finding among `findings`.
    """
    barring = [finding for finding in findings if finding.severity in NEVER_KEPT]
    ways = [
        ShortCut(path.links[0].ref, path.end, _about(barring, (split_end(path.end)[0],)))
        for path in signal_paths(plan)
        if path.start is not None and path.end is not None and not path.in_loop
    ]
    return min(ways, key=lambda way: bool(way.barred_by), default=None)


def _about(findings: Iterable[Finding], refs: Iterable[str]) -> tuple[Finding, ...]:
    """Those that name one of these refs, or a jack of one."""
    wanted = {fold(ref) for ref in refs}
    return tuple(
        finding
        for finding in findings
        if any(fold(name) in wanted or fold(split_end(name)[0]) in wanted for name in finding.subjects)
    )


def _pick_unknown(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """What could not be judged for want of a record, and is not kept on purpose."""
    return sort_findings(one for one in findings if one.severity == "unknown" and one.accepted is None)


def _naming(findings: Iterable[Finding], ends: Iterable[str]) -> tuple[Finding, ...]:
    """Those that name one of these jacks or outlets itself, not merely its pedal or its supply."""
    wanted = {fold(end) for end in ends}
    return tuple(one for one in findings if any(fold(name) in wanted for name in one.subjects))


def _standing(
    index: PlanIndex,
    pedal: Pedal,
    number: int | None,
    urgent: Iterable[Finding],
    unknown: Iterable[Finding],
) -> Standing:
    supplied = tuple(_supplied(index, pedal, jack) for jack in pedal.power)
    outlets = tuple(outlet for one in supplied for outlet in one.outlets)
    fed = (*(f"{pedal.ref}.{jack.name}" for jack in pedal.power), *outlets)
    ends = [fold(f"{pedal.ref}.{jack.name}") for jack in pedal.jacks]
    return Standing(
        number=number,
        ref=pedal.ref,
        name=pedal.name,
        kind=pedal.kind,
        before=tuple(_hop(index, link, link.target) for end in ends for link in index.links_to.get(end, ())),
        after=tuple(_hop(index, link, link.source) for end in ends for link in index.links_from.get(end, ())),
        supplied=supplied,
        settings=pedal.settings,
        findings=_about(urgent, (pedal.ref, *outlets)) + _naming(unknown, fed),
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
        made_id=link.made_id,
    )


def _supplied(index: PlanIndex, pedal: Pedal, jack: PowerJack) -> Supplied:
    own = f"{pedal.ref}.{jack.name}"
    feed = index.feed_of_jack.get(fold(own))
    return Supplied(
        jack=jack.name,
        given=_given(index, feed) if feed else (),
        current=jack.current,
        nominal_mv=jack.nominal,
        polarity=jack.polarity,
        ground_pole=jack.ground_pole,
        draw_ma=jack.rated if jack.measured is None else jack.measured,
        is_measured=jack.measured is not None,
        adapters=feed.adapters if feed else (),
        lead=feed.lead if feed else None,
        shared_with=_shared_with(index, feed, own) if feed else (),
    )


def _given(index: PlanIndex, feed: Feed) -> tuple[Given, ...]:
    chosen = feed.settings or (None,) * len(feed.outlets)
    outlets = [index.outlets[fold(name)][1] for name in feed.outlets]
    return tuple(
        Given(name, mv if mv is not None else only_voltage(outlet.settings), outlet.current, outlet.polarity)
        for name, mv, outlet in zip(feed.outlets, chosen, outlets, strict=True)
    )


def series_mv(plan: BoardPlan, feed: Feed) -> int | None:
    """The sum of a feed's outlets in series, before the lead; None where they are not, or one is unknown."""
    return _sum_in_series(_given(index_plan(plan), feed), feed.adapters)


def _sum_in_series(given: tuple[Given, ...], adapters: tuple[str, ...]) -> int | None:
    """Where the feed says parallel as well, nobody knows which of the two it is."""
    known = [one.setting_mv for one in given if one.setting_mv is not None]
    is_series = len(given) > 1 and "series" in adapters and "parallel" not in adapters
    return sum(known) if is_series and len(known) == len(given) else None


def only_voltage(settings: tuple[OutletSetting, ...]) -> int | None:
    """The voltage of an outlet that has just one; None where there is a choice or nobody recorded it."""
    if len(settings) == 1 and settings[0].min_mv == settings[0].max_mv:
        return settings[0].min_mv
    return None


def _shared_with(index: PlanIndex, feed: Feed, own: str) -> tuple[str, ...]:
    feeds = [other for outlet in feed.outlets for other in index.feeds_of_outlet[fold(outlet)]]
    jacks = dict.fromkeys(jack for other in feeds for jack in other.jacks)
    return tuple(jack for jack in jacks if fold(jack) != fold(own))
