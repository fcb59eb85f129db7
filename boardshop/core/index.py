"""Look-ups over a plan that every section needs: parts by ref, jacks by `REF.NAME`, links by end."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from boardshop.core.plan import (
    SOURCE_JACK_NAME,
    Amp,
    BoardPlan,
    CableType,
    Computer,
    EndJack,
    Feed,
    Jack,
    Link,
    Outlet,
    Pedal,
    PlugType,
    PowerJack,
    Source,
    Supply,
)

type SignalPart = Pedal | Source | Amp | Computer
SOURCE_JACK = Jack(name=SOURCE_JACK_NAME, role="out")


def fold(name: str) -> str:
    """How refs and jack names compare: without case."""
    return name.casefold()


def split_end(end: str) -> tuple[str, str]:
    """`P3.IN` -> (`P3`, `IN`)."""
    ref, _, name = end.partition(".")
    return ref, name


@dataclass(frozen=True, slots=True)
class PlanIndex:
    """Every dictionary is keyed by folded names and keeps the plan's order."""

    pedals: dict[str, Pedal]
    signal_parts: dict[str, SignalPart]
    supplies: dict[str, Supply]
    cables: dict[str, CableType]
    plugs: dict[str, PlugType]
    jacks: dict[str, Jack | EndJack]
    power_jacks: dict[str, tuple[Pedal, PowerJack]]
    outlets: dict[str, tuple[Supply, Outlet]]
    links_from: dict[str, tuple[Link, ...]]
    links_to: dict[str, tuple[Link, ...]]
    feed_of_jack: dict[str, Feed]
    feeds_of_outlet: dict[str, tuple[Feed, ...]]


@lru_cache(maxsize=32)
def same_plan(plan: BoardPlan) -> BoardPlan:
    """The plan itself, or the equal one that was asked about before, of which more is known already."""
    return plan


@lru_cache(maxsize=32)
def index_plan(plan: BoardPlan) -> PlanIndex:
    """The plan's look-ups, made once for each plan."""
    parts: dict[str, SignalPart] = {}
    everything: tuple[SignalPart, ...] = (*plan.sources, *plan.pedals, *plan.amps, *plan.computers)
    for part in everything:
        parts[fold(part.ref)] = part
    feeds_of_outlet: dict[str, tuple[Feed, ...]] = {}
    for feed in plan.feeds:
        for outlet in feed.outlets:
            feeds_of_outlet[fold(outlet)] = (*feeds_of_outlet.get(fold(outlet), ()), feed)
    return PlanIndex(
        pedals={fold(p.ref): p for p in plan.pedals},
        signal_parts=parts,
        supplies={fold(s.ref): s for s in plan.supplies},
        cables={fold(c.ref): c for c in plan.cables},
        plugs={fold(p.ref): p for p in plan.plugs},
        jacks=_index_jacks(parts),
        power_jacks={fold(f"{p.ref}.{j.name}"): (p, j) for p in plan.pedals for j in p.power},
        outlets={fold(f"{s.ref}.{o.name}"): (s, o) for s in plan.supplies for o in s.outlets},
        links_from=_group_links((fold(link.source), link) for link in plan.links),
        links_to=_group_links((fold(link.target), link) for link in plan.links),
        feed_of_jack={fold(jack): feed for feed in plan.feeds for jack in feed.jacks},
        feeds_of_outlet=feeds_of_outlet,
    )


def _index_jacks(parts: dict[str, SignalPart]) -> dict[str, Jack | EndJack]:
    jacks: dict[str, Jack | EndJack] = {}
    for part in parts.values():
        own: tuple[Jack | EndJack, ...] = (SOURCE_JACK,) if isinstance(part, Source) else part.jacks
        for jack in own:
            jacks[fold(f"{part.ref}.{jack.name}")] = jack
    return jacks


def _group_links(pairs: Iterable[tuple[str, Link]]) -> dict[str, tuple[Link, ...]]:
    grouped: dict[str, tuple[Link, ...]] = {}
    for end, link in pairs:
        grouped[end] = (*grouped.get(end, ()), link)
    return grouped
