"""A free isolated outlet for each jack that is to leave a shared return, as far as any match."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from boardshop.core.index import fold, index_plan
from boardshop.core.plan import BoardPlan, Feed
from boardshop.core.power.choices import list_choices
from boardshop.core.power.connections import with_feed

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
    would serve it; then each is judged again with those before it in place, for the supplies' sums.
    """
    choices = {fold(jack): _list_matching(plan, jack) for jack in jack_refs}
    holder: dict[str, str] = {}
    for jack in choices:
        _place(jack, choices, holder, set())
    given = {jack: outlet for outlet, jack in holder.items()}
    kept: dict[str, OwnOutlet] = {}
    for ref in jack_refs:
        jack = fold(ref)
        own = next((one for one in choices[jack] if fold(one.ref) == given.get(jack)), None)
        if own is not None and own in _list_matching(plan, ref):
            kept[jack] = own
            feed = Feed((own.ref,), (ref,), (own.setting_mv,))
            plan = replace(plan, feeds=with_feed(plan.feeds, feed))
    return kept


def _list_matching(plan: BoardPlan, jack_ref: str) -> tuple[OwnOutlet, ...]:
    """At the first of its settings that matches, each free isolated outlet."""
    outlets = index_plan(plan).outlets
    found: dict[str, OwnOutlet] = {}
    for choice in list_choices(plan, jack_ref):
        _, outlet = outlets[fold(choice.outlet)]
        if outlet.group is None and not choice.feeds and choice.verdict in MATCHES:
            found.setdefault(fold(choice.outlet), OwnOutlet(choice.outlet, choice.setting_mv))
    return tuple(found.values())


def _place(
    jack: str, choices: dict[str, tuple[OwnOutlet, ...]], holder: dict[str, str], tried: set[str]
) -> bool:
    for own in choices[jack]:
        outlet = fold(own.ref)
        if outlet not in tried:
            tried.add(outlet)
            if outlet not in holder or _place(holder[outlet], choices, holder, tried):
                holder[outlet] = jack
                return True
    return False
