"""A free isolated outlet for each jack that is to leave a shared return, as far as any match."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from boardshop.core.index import fold, index_plan
from boardshop.core.plan import BoardPlan, Feed, Outlet, Supply
from boardshop.core.power.choices import judge_connection, list_choices
from boardshop.core.power.connections import find_power_jack, make_feeding, with_feed
from boardshop.core.screens import number_joined_units

MATCHES = ("right", "advice")
"""What may be said of an outlet that is offered: nothing, or advice."""


@dataclass(frozen=True, slots=True)
class OwnOutlet:
    """The outlet, at this setting; what is said of it is at most advice."""

    ref: str
    setting_mv: int | None


def find_own_outlets(plan: BoardPlan, jack_refs: Sequence[str]) -> dict[str, OwnOutlet]:
    """As many of these jacks as can be fed at once from free isolated outlets that match, by folded ref.

    Outlets go to jacks by augmenting paths (Berge, 1957), so that none is called short while another order
    would serve it; then each is judged on the whole board with those before it in place, for the sums.
    """
    free = _list_free(plan)
    choices = {fold(jack): _list_matching(plan, jack, free) for jack in jack_refs}
    holder: dict[str, str] = {}
    for jack in choices:
        _place(jack, choices, holder, set())
    given = {jack: outlet for outlet, jack in holder.items()}
    units = number_joined_units(plan)
    feeds, kept = plan.feeds, dict[str, OwnOutlet]()
    for ref in jack_refs:
        own = next((one for one in choices[fold(ref)] if fold(one.ref) == given.get(fold(ref))), None)
        if own is None:
            continue
        tried = with_feed(feeds, Feed((own.ref,), (ref,), (own.setting_mv,)))
        feeding = make_feeding(plan, tried)
        found = judge_connection(feeding, feeding.connections[-1], units)
        if all(finding.severity in MATCHES for finding in found):
            feeds, kept[fold(ref)] = tried, own
    return kept


def _list_free(plan: BoardPlan) -> tuple[tuple[Supply, Outlet], ...]:
    """The isolated outlets that feed nothing."""
    used = index_plan(plan).feeds_of_outlet
    return tuple(
        (supply, outlet)
        for supply in plan.supplies
        for outlet in supply.outlets
        if outlet.group is None and fold(f"{supply.ref}.{outlet.name}") not in used
    )


def _list_matching(
    plan: BoardPlan, jack_ref: str, free: Sequence[tuple[Supply, Outlet]]
) -> tuple[OwnOutlet, ...]:
    """At the first of its settings that matches, each free outlet, judged with this jack on it alone."""
    pedal = find_power_jack(index_plan(plan), jack_ref).pedal
    found: dict[str, OwnOutlet] = {}
    for supply, outlet in free:
        alone = BoardPlan(
            plan.frame, pedals=(pedal,), supplies=(replace(supply, outlets=(outlet,)),), rules=plan.rules
        )
        for choice in list_choices(alone, jack_ref):
            if choice.verdict in MATCHES:
                found.setdefault(fold(choice.outlet), OwnOutlet(choice.outlet, choice.setting_mv))
    return tuple(found.values())


def _place(
    jack: str, choices: dict[str, tuple[OwnOutlet, ...]], holder: dict[str, str], tried: set[str]
) -> bool:
    """Give the jack its first outlet that nobody has, else one whose jack can take another."""
    outlets = [fold(own.ref) for own in choices[jack]]
    for outlet in (*(ref for ref in outlets if ref not in holder), *outlets):
        if outlet not in tried:
            tried.add(outlet)
            if outlet not in holder or _place(holder[outlet], choices, holder, tried):
                holder[outlet] = jack
                return True
    return False
