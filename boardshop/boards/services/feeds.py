"""Feeds: which outlet, or which joined outlets, power which jack or chain of jacks."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from boardshop.boards.errors import JackFedTwice, NothingThere, OutletTwice, SettingNotOffered, TwoSettings
from boardshop.boards.history.recording import Unchanged
from boardshop.boards.models import Board, DcLead, Feed, FeedJack, FeedOutlet
from boardshop.boards.services.editing import board_edit, check_shop, set_columns
from boardshop.boards.services.power_directory import (
    JackDirectory,
    JackSpot,
    OutletDirectory,
    OutletSpot,
)
from boardshop.core.power.goals import JOINING
from boardshop.gear.models import PlugType


@dataclass(frozen=True)
class Chosen:
    """An outlet written as `S1.4` and the voltage chosen on it; None where it has only one."""

    outlet: str
    setting_mv: int | None = None


@dataclass(frozen=True)
class LeadColumns:
    """What is known of the DC lead; everything may stay unknown."""

    length: int | None = None
    awg: int | None = None
    mm2: Decimal | None = None
    connector: str = ""
    plug: PlugType | None = None


@dataclass(frozen=True)
class FeedColumns:
    """Everything about one feed but its jacks."""

    outlets: Sequence[Chosen]
    adapters: Sequence[str] = ()
    pinned: bool = False
    lead: LeadColumns = field(default_factory=LeadColumns)


@board_edit
def feed_pedal(board: Board, jacks: Sequence[str], columns: FeedColumns) -> Feed:
    """Power these jacks (`P4.DC`; several make a chain) from these outlets (several are joined).

    Refuses what cannot be: an unknown outlet or jack, a second feed of a jack, a setting that the outlet
    does not have or that contradicts its other feeds.  What merely should not be is the core's to find.
    """
    directory = JackDirectory(board)
    return _feed(board, directory, [directory.find(end) for end in jacks], columns)


@board_edit
def feed_jack(board: Board, end: str, columns: FeedColumns) -> None:
    """Feed one power jack; where it is fed already, its feed becomes this one, for the whole chain."""
    directory = JackDirectory(board)
    spot = directory.find(end)
    if spot.feed_id is None:
        _feed(board, directory, [spot], columns)
    else:
        _change(board, Feed(pk=spot.feed_id, board=board), columns)


@board_edit
def move_feed(board: Board, end: str, outlet: Chosen | None) -> None:
    """Put the plug of this power jack into another outlet, or pull it where `outlet` is None.

    A lead of its own comes along with its adapters, but for those that join two outlets.  A jack that leaves
    a chain leaves that lead there; an outlet in use is shared.  `core.power.move_feed` says it of a plan.
    """
    directory = JackDirectory(board)
    spot = directory.find(end)
    if outlet is None:
        _pull(directory, spot)
    elif spot.feed_id is None or directory.jacks_on(spot.feed_id) > 1:
        (outlet_spot,) = check_outlets(OutletDirectory(board), [outlet])
        _pull(directory, spot)
        _plug_in(board, directory, spot, outlet_spot, outlet)
    else:
        spots = check_outlets(OutletDirectory(board), [outlet], but=spot.feed_id)
        _replug(Feed.objects.get(pk=spot.feed_id), spots, outlet)


@board_edit
def chain_pedal(board: Board, end: str, onto: str) -> None:
    """Hang this power jack on the lead that feeds `onto`; whatever fed it before is unplugged."""
    directory = JackDirectory(board)
    spot, other = directory.find(end), directory.find(onto)
    if other.feed_id is None:
        raise NothingThere(jack=onto)
    if spot.feed_id == other.feed_id:
        raise JackFedTwice(jack=end)
    _pull(directory, spot)
    position = directory.next_jack_position(other.feed_id)
    FeedJack.objects.create(
        feed_id=other.feed_id, position=position, pedal_id=spot.pedal_id, jack_id=spot.jack_id
    )


@board_edit
def unfeed(board: Board, end: str) -> None:
    """Pull the plug of this power jack; the rest of a chain stays fed."""
    directory = JackDirectory(board)
    _pull(directory, directory.find(end))


def _pull(directory: JackDirectory, spot: JackSpot) -> None:
    if spot.feed_id is None or spot.row_id is None:
        return
    if directory.jacks_on(spot.feed_id) == 1:
        Feed(pk=spot.feed_id).delete()
    else:
        FeedJack.objects.filter(pk=spot.row_id).delete()


def _plug_in(
    board: Board, directory: JackDirectory, spot: JackSpot, outlet: OutletSpot, chosen: Chosen
) -> None:
    feed = Feed.objects.create(board=board, position=directory.next_feed_position())
    FeedJack.objects.create(feed=feed, pedal_id=spot.pedal_id, jack_id=spot.jack_id)
    _write_outlets(feed, [outlet], [chosen])


def _replug(feed: Feed, outlets: Sequence[OutletSpot], chosen: Chosen) -> None:
    fixed = {(spot.supply_id, spot.outlet_id): spot.only_mv for spot in outlets}
    stands = [
        (supply, outlet, fixed.get((supply, outlet)) if mv is None else mv)
        for supply, outlet, mv in feed.outlets.values_list("supply_id", "outlet_id", "setting_mv")
    ]
    if stands == [(spot.supply_id, spot.outlet_id, chosen.setting_mv) for spot in outlets]:
        raise Unchanged
    feed.outlets.all().delete()
    set_columns(feed, {"adapters": [one for one in feed.adapters if one not in JOINING]})
    _write_outlets(feed, outlets, [chosen])


def _feed(board: Board, directory: JackDirectory, spots: Sequence[JackSpot], columns: FeedColumns) -> Feed:
    for spot in spots:
        if spot.feed_id is not None:
            raise JackFedTwice(jack=spot.ref)
    outlets = _check(board, columns)
    feed = Feed.objects.create(
        board=board,
        position=directory.next_feed_position(),
        adapters=list(columns.adapters),
        pinned=columns.pinned,
    )
    FeedJack.objects.bulk_create(
        FeedJack(feed=feed, position=number, pedal_id=spot.pedal_id, jack_id=spot.jack_id)
        for number, spot in enumerate(spots)
    )
    _write(feed, outlets, columns)
    return feed


def _change(board: Board, feed: Feed, columns: FeedColumns) -> None:
    outlets = _check(board, columns, but=feed.pk)
    FeedOutlet.objects.filter(feed=feed).delete()
    set_columns(feed, {"adapters": list(columns.adapters), "pinned": columns.pinned})
    _write(feed, outlets, columns)


def _check(board: Board, columns: FeedColumns, but: int = 0) -> list[OutletSpot]:
    """The outlets of the columns; `but` is the feed whose own settings do not count."""
    check_shop(board, columns.lead.plug)
    return check_outlets(OutletDirectory(board), columns.outlets, but=but)


def check_outlets(directory: OutletDirectory, outlets: Sequence[Chosen], *, but: int = 0) -> list[OutletSpot]:
    """The outlets of one feed; `but` is the feed whose own settings do not count."""
    spots = [directory.find(chosen.outlet) for chosen in outlets]
    for number, spot in enumerate(spots):
        if spot.ref in {other.ref for other in spots[:number]}:
            raise OutletTwice(outlet=spot.ref)
    for spot, chosen in zip(spots, outlets, strict=True):
        mv = chosen.setting_mv
        if mv is None:
            continue
        if spot.ranges and not any(low <= mv <= high for low, high in spot.ranges):
            raise SettingNotOffered(outlet=spot.ref, setting=f"{mv / 1000:g} V")
        if any(other != mv for feed, other in spot.settings if feed != but):
            raise TwoSettings(outlet=spot.ref)
    return spots


def _write(feed: Feed, outlets: Sequence[OutletSpot], columns: FeedColumns) -> None:
    _write_outlets(feed, outlets, columns.outlets)
    lead = columns.lead
    known = ("length", "awg", "mm2", "connector", "plug")
    row = DcLead(feed=feed, **{name: getattr(lead, name) for name in known})
    # In one statement, whether or not the feed had a lead.
    DcLead.objects.bulk_create([row], update_conflicts=True, unique_fields=["feed"], update_fields=known)


def _write_outlets(feed: Feed, outlets: Sequence[OutletSpot], chosen: Sequence[Chosen]) -> None:
    FeedOutlet.objects.bulk_create(
        FeedOutlet(
            feed=feed,
            position=number,
            supply_id=spot.supply_id,
            outlet_id=spot.outlet_id,
            setting_mv=one.setting_mv,
        )
        for number, (spot, one) in enumerate(zip(outlets, chosen, strict=True))
    )
