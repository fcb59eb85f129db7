"""Taking proposed feeds: several jacks plugged over at once."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from boardshop.boards.errors import TwoSettings
from boardshop.boards.models import Board, DcLead, Feed, FeedJack, FeedOutlet
from boardshop.boards.services.editing import board_edit
from boardshop.boards.services.feeds import Chosen, check_outlets
from boardshop.boards.services.power_directory import JackDirectory, JackSpot, OutletDirectory, OutletSpot
from boardshop.core.index import fold

LEAD_COLUMNS = ("length", "awg", "mm2", "connector", "plug_id")


@dataclass(frozen=True)
class Plug:
    """One power jack and the outlets that are to feed it; none where its plug is only pulled."""

    end: str
    outlets: tuple[Chosen, ...] = ()
    adapters: tuple[str, ...] = ()


@dataclass
class _NewFeed:
    plug: Plug
    outlets: list[OutletSpot]
    jacks: list[JackSpot] = field(default_factory=list)
    lead: dict[str, Any] = field(default_factory=dict)


@board_edit
def take_feeds(board: Board, plugs: Sequence[Plug]) -> None:
    """Pull the plugs of these jacks, then feed each as it says; a lead that feeds one jack alone comes along.

    Refuses an outlet or jack that the board has not, a setting that the outlet has not, and one outlet at two
    settings; then nothing is changed.
    """
    jacks = JackDirectory(board)
    spots = [jacks.find(plug.end) for plug in plugs]
    leads = _pull_all(jacks, spots)
    outlets = OutletDirectory(board)
    feeds: dict[object, _NewFeed] = {}
    for plug, spot in zip(plugs, spots, strict=True):
        if plug.outlets:
            # Joined outlets are joined once, whatever hangs on them.
            key = (plug.outlets, plug.adapters) if len(plug.outlets) > 1 else spot.ref
            new = feeds.setdefault(key, _NewFeed(plug, check_outlets(outlets, plug.outlets)))
            new.jacks.append(spot)
            new.lead = leads.get(spot.feed_id, {}) if len(new.jacks) == 1 else {}
    _check_settings(feeds.values())
    _write_all(board, jacks.next_feed_position(), list(feeds.values()))


def _pull_all(directory: JackDirectory, spots: Sequence[JackSpot]) -> dict[int | None, dict[str, Any]]:
    """The leads, by feed, of the jacks that had one of their own."""
    pulled = Counter(spot.feed_id for spot in spots if spot.feed_id is not None)
    whole = [feed for feed, count in pulled.items() if count == directory.jacks_on(feed)]
    alone = [feed for feed in whole if directory.jacks_on(feed) == 1]
    rows = DcLead.objects.filter(feed__in=alone).values("feed_id", *LEAD_COLUMNS)
    leads = {row["feed_id"]: {name: row[name] for name in LEAD_COLUMNS} for row in rows}
    Feed.objects.filter(pk__in=whole).delete()
    FeedJack.objects.filter(pk__in=[spot.row_id for spot in spots if spot.feed_id not in whole]).delete()
    return leads


def _check_settings(feeds: Iterable[_NewFeed]) -> None:
    """Raises TwoSettings where the new feeds themselves want an outlet at two voltages."""
    wanted: dict[str, int | None] = {}
    for feed in feeds:
        for spot, chosen in zip(feed.outlets, feed.plug.outlets, strict=True):
            if wanted.setdefault(fold(spot.ref), chosen.setting_mv) != chosen.setting_mv:
                raise TwoSettings(outlet=spot.ref)


def _write_all(board: Board, position: int, new: Sequence[_NewFeed]) -> None:
    rows = Feed.objects.bulk_create(
        Feed(board=board, position=position + number, adapters=list(one.plug.adapters))
        for number, one in enumerate(new)
    )
    pairs = list(zip(rows, new, strict=True))
    FeedJack.objects.bulk_create(
        FeedJack(feed=row, position=number, pedal_id=spot.pedal_id, jack_id=spot.jack_id)
        for row, one in pairs
        for number, spot in enumerate(one.jacks)
    )
    FeedOutlet.objects.bulk_create(
        FeedOutlet(
            feed=row,
            position=number,
            supply_id=spot.supply_id,
            outlet_id=spot.outlet_id,
            setting_mv=chosen.setting_mv,
        )
        for row, one in pairs
        for number, (spot, chosen) in enumerate(zip(one.outlets, one.plug.outlets, strict=True))
    )
    DcLead.objects.bulk_create(DcLead(feed=row, **one.lead) for row, one in pairs if one.lead)
