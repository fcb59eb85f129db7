"""Where a power jack can be plugged in: every outlet at every setting worth offering, unjudged."""

from dataclasses import dataclass, replace

from boardshop.core.index import fold, index_plan
from boardshop.core.plan import BoardPlan, Feed, Outlet

JOINING = ("parallel", "series")
"""Adapters that join two outlets; on one alone they mean nothing."""


@dataclass(frozen=True, slots=True)
class Goal:
    """An outlet and the voltage to set on it; None where none is recorded."""

    outlet: str
    setting_mv: int | None


def list_goals(plan: BoardPlan, jack_ref: str) -> tuple[Goal, ...]:
    """In the plan's order of outlets; of each the setting at the jack's own voltage first.

    An outlet that feeds something else already keeps the setting recorded for that.
    """
    found = index_plan(plan).power_jacks.get(fold(jack_ref))
    nominal = found[1].nominal if found else None
    taken = _settings_of_others(plan, jack_ref)
    return tuple(
        Goal(ref, setting)
        for supply in plan.supplies
        for outlet in supply.outlets
        for ref in (f"{supply.ref}.{outlet.name}",)
        for setting in ([taken[fold(ref)]] if fold(ref) in taken else _list_settings(outlet, nominal))
    )


def move_feed(plan: BoardPlan, jack_ref: str, goal: Goal | None) -> Feed:
    """The feed that this jack has once its plug is put into that outlet; None = into none.

    A lead of its own comes along with its adapters; a jack that leaves a chain leaves the chain's lead
    there, so that nothing is known of its new one.
    """
    if goal is None:
        return Feed((), (jack_ref,))
    feed = index_plan(plan).feed_of_jack.get(fold(jack_ref))
    if feed is None or len(feed.jacks) > 1:
        return Feed((goal.outlet,), (jack_ref,), (goal.setting_mv,))
    adapters = tuple(adapter for adapter in feed.adapters if adapter not in JOINING)
    return replace(feed, outlets=(goal.outlet,), settings=(goal.setting_mv,), adapters=adapters)


def _settings_of_others(plan: BoardPlan, jack_ref: str) -> dict[str, int]:
    """By folded outlet, the voltage that a feed of another jack has set on it."""
    taken: dict[str, int] = {}
    for feed in plan.feeds:
        if any(fold(jack) != fold(jack_ref) for jack in feed.jacks):
            for outlet, setting in zip(feed.outlets, feed.settings, strict=False):
                if setting is not None:
                    taken.setdefault(fold(outlet), setting)
    return taken


def _list_settings(outlet: Outlet, nominal: int | None) -> list[int | None]:
    """Every fixed voltage and the nearest of each range, the jack's own first."""
    nearest = [max(s.min_mv, min(nominal or s.min_mv, s.max_mv)) for s in outlet.settings]
    offered: list[int | None] = [*dict.fromkeys(nearest)]
    return sorted(offered, key=lambda setting: setting != nominal) or [None]
