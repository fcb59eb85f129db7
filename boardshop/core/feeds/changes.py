"""What a proposal changes, jack by jack, and how the rest stands if one change is made alone."""

from collections.abc import Sequence
from dataclasses import dataclass

from boardshop.core.feeds.ports import port_of
from boardshop.core.feeds.proposal import Proposal
from boardshop.core.feeds.score import is_changed
from boardshop.core.findings import Finding
from boardshop.core.index import fold, index_plan
from boardshop.core.moves import compare_feeds
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan, Feed
from boardshop.core.power.connections import Connection, Feeding, make_feeding, with_feed
from boardshop.core.power.loads import add_up_outlet
from boardshop.core.power.wording import say_list, say_volts
from boardshop.core.printing import round_percent


@dataclass(frozen=True, slots=True)
class FeedChange:
    """One jack that a proposal feeds otherwise; ``feed`` is None where it only pulls the plug."""

    jack: str
    feed: Feed | None
    before: tuple[str, ...]
    """The outlets that feed it today; none where nothing does."""
    message: str
    note: str
    """What to ask or to get before it is made; blank where nothing is."""
    alone: tuple[Finding, ...]
    """What it brings when it is made and no other, worst first."""
    alone_percent: float | None
    """The load of its new outlet then; None where it is not known, or no outlet is."""
    percent: float | None
    """The same with all changes made."""

    @property
    def worst_alone(self) -> Finding | None:
        return self.alone[0] if self.alone else None


def list_feed_changes(plan: BoardPlan, proposal: Proposal) -> tuple[FeedChange, ...]:
    """In the order of the jacks."""
    before, after = make_feeding(plan), make_feeding(plan, proposal.feeds)
    changed = [end for end in proposal.jacks if is_changed(plan, after, end)]
    return tuple(_describe(before, after, end) for end in changed)


def with_changes(feeds: Sequence[Feed], changes: Sequence[FeedChange]) -> tuple[Feed, ...]:
    """The feeds with these changes made."""
    made = tuple(feeds)
    for change in changes:
        made = with_feed(made, change.feed or Feed((), (change.jack,)))
    return tuple(feed for feed in made if feed.outlets)


def _describe(before: Feeding, after: Feeding, end: str) -> FeedChange:
    old, new = _connection_of(before, end), _connection_of(after, end)
    feed = None if new is None else _feed_of(new, end)
    move = compare_feeds(before.plan, feed) if feed else None
    was = () if old is None else tuple(tap.ref for tap in old.taps)
    return FeedChange(
        jack=end,
        feed=feed,
        before=was,
        message=_say_change(before, after, end, old, new),
        note=_say_note(end, new),
        alone=move.brings if move else (),
        alone_percent=move.joined[0].after.load_percent if move else None,
        percent=None if new is None else _percent_of(after, new),
    )


def _connection_of(feeding: Feeding, end: str) -> Connection | None:
    connections = feeding.connections
    return next((c for c in connections if any(fold(fed.ref) == fold(end) for fed in c.jacks)), None)


def _feed_of(connection: Connection, end: str) -> Feed:
    """Of this jack alone, whatever hangs on the same lead."""
    alone = len(connection.jacks) == 1
    return Feed(
        outlets=tuple(tap.ref for tap in connection.taps),
        jacks=(end,),
        settings=tuple(tap.setting_mv for tap in connection.taps),
        adapters=connection.adapters,
        lead=connection.lead if alone else None,
    )


def _say_change(
    before: Feeding, after: Feeding, end: str, old: Connection | None, new: Connection | None
) -> str:
    """`Delay from S1.3 to S1.5: 180 % to 60 %`: each figure is that of the whole outlet."""
    name = called(index_plan(before.plan), end)
    came = f"from {_say_outlets(old)}" if old else ""
    if new is None:
        return f"{name} {came}: no outlet is right for it, so the plug is pulled."
    goes = f"to {_say_outlets(new)}"
    figures = _say_percent(after, new)
    if old is None:
        return f"{name} {goes}: {figures}"
    if [tap.ref for tap in old.taps] == [tap.ref for tap in new.taps]:
        return f"{name} stays on {_say_outlets(new)}: {_say_percent(before, old)} to {figures}"
    return f"{name} {came} {goes}: {_say_percent(before, old)} to {figures}"


def _say_outlets(connection: Connection) -> str:
    settings = [
        f"{tap.ref} at {say_volts(tap.setting_mv)}" if tap.is_selectable and tap.setting_mv else tap.ref
        for tap in connection.taps
    ]
    through = f" by {' and '.join(connection.adapters)}" if connection.adapters else ""
    return say_list(tuple(settings)) + through


def _say_percent(feeding: Feeding, connection: Connection) -> str:
    """The outlet's load in percent; of joined ones both show the same."""
    tap = connection.taps[0]
    percent = _percent_of(feeding, connection)
    least = "at least " if add_up_outlet(feeding, tap.supply, tap.outlet).load.is_partial else ""
    return f"{least}{percent} %" if percent is not None else "an unknown share"


def _percent_of(feeding: Feeding, connection: Connection) -> float | None:
    tap = connection.taps[0]
    load = add_up_outlet(feeding, tap.supply, tap.outlet).load
    percent = load.percent_of(load.load_ma)
    return None if percent is None else round_percent(float(percent))


def _say_note(end: str, new: Connection | None) -> str:
    if new is None:
        return ""
    fed = next(one for one in new.jacks if fold(one.ref) == fold(end))
    notes: list[str] = []
    mv = port_of(new).mv
    if fed.jack.nominal is not None and mv != fed.jack.nominal:
        notes.append(
            f"It is labelled {say_volts(fed.jack.nominal)} and gets {say_volts(mv)}: ask the player."
        )
    if "converter" in new.adapters:
        notes.append("Meter the converter's far end before the pedal is plugged in.")
    if "reverser" in new.adapters:
        notes.append("Label the reversed lead at both ends.")
    return " ".join(notes)
