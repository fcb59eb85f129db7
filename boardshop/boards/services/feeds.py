"""Feeds: which outlet, or which joined outlets, power which jack or chain of jacks."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from boardshop.boards.errors import (
    JackFedTwice,
    JackUnknown,
    NothingThere,
    OutletUnknown,
    SettingNotOffered,
    TwoSettings,
)
from boardshop.boards.models import Board, DcLead, Feed, FeedJack, FeedOutlet, Placement, SupplyPlacement
from boardshop.boards.services.editing import board_edit, check_board, check_shop
from boardshop.core.index import fold, split_end
from boardshop.gear.models import Outlet, PlugType, PowerJack


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
    feed = Feed.objects.create(board=board, position=board.feeds.count())
    for number, end in enumerate(jacks):
        pedal, jack = _find_jack(board, end)
        _check_unfed(pedal, jack)
        FeedJack.objects.create(feed=feed, position=number, pedal=pedal, jack=jack)
    _write(board, feed, columns)
    return feed


@board_edit
def change_feed(board: Board, feed: Feed, columns: FeedColumns) -> None:
    """Other outlets, settings, adapters or lead; the jacks stay."""
    check_board(board, feed)
    feed.outlets.all().delete()
    _write(board, feed, columns)


@board_edit
def chain_pedal(board: Board, end: str, onto: str) -> None:
    """Hang this power jack on the lead that feeds `onto`; whatever fed it before is unplugged."""
    pedal, jack = _find_jack(board, end)
    other = FeedJack.objects.filter(**_row_of(*_find_jack(board, onto))).select_related("feed").first()
    if other is None:
        raise NothingThere(jack=onto)
    if other.pedal_id == pedal.pk and other.jack_id == jack.pk:
        raise JackFedTwice(jack=end)
    _pull(pedal, jack)
    last = other.feed.jacks.order_by("-position").values_list("position", flat=True).first() or 0
    FeedJack.objects.create(feed=other.feed, position=last + 1, pedal=pedal, jack=jack)


@board_edit
def unfeed(board: Board, end: str) -> None:
    """Pull the plug of this power jack; the rest of a chain stays fed."""
    _pull(*_find_jack(board, end))


def _row_of(pedal: Placement, jack: PowerJack) -> dict[str, Any]:
    return {"pedal": pedal, "jack": jack}


def _pull(pedal: Placement, jack: PowerJack) -> None:
    row = FeedJack.objects.filter(pedal=pedal, jack=jack).select_related("feed").first()
    if row is None:
        return
    if row.feed.jacks.count() == 1:
        row.feed.delete()
    else:
        row.delete()


def _write(board: Board, feed: Feed, columns: FeedColumns) -> None:
    check_shop(board, columns.lead.plug)
    for number, chosen in enumerate(columns.outlets):
        supply, outlet = find_outlet(board, chosen.outlet)
        _check_setting(feed, supply, outlet, chosen.setting_mv)
        FeedOutlet.objects.create(
            feed=feed, position=number, supply=supply, outlet=outlet, setting_mv=chosen.setting_mv
        )
    feed.adapters, feed.pinned = list(columns.adapters), columns.pinned
    feed.save(update_fields=["adapters", "pinned"])
    lead = columns.lead
    DcLead.objects.update_or_create(
        feed=feed,
        defaults={
            "length": lead.length,
            "awg": lead.awg,
            "mm2": lead.mm2,
            "connector": lead.connector,
            "plug": lead.plug,
        },
    )


def find_outlet(board: Board, end: str) -> tuple[SupplyPlacement, Outlet]:
    """The supply and the outlet that `S1.4` names on this board; raises OutletUnknown."""
    ref, name = split_end(end)
    supply = SupplyPlacement.objects.filter(board=board, ref__iexact=ref).first()
    outlet = Outlet.objects.filter(supply=supply.model_id, name__iexact=name).first() if supply else None
    if supply is None or outlet is None:
        raise OutletUnknown(outlet=name or end, supply=ref)
    return supply, outlet


def _find_jack(board: Board, end: str) -> tuple[Placement, PowerJack]:
    ref, name = split_end(end)
    pedal = Placement.objects.filter(board=board, ref__iexact=ref).first()
    if pedal is not None:
        for jack in PowerJack.objects.filter(model=pedal.model_id):
            if fold(jack.name) == fold(name):
                return pedal, jack
    raise JackUnknown(end=end, item=ref, field="jack")


def _check_unfed(pedal: Placement, jack: PowerJack) -> None:
    if FeedJack.objects.filter(pedal=pedal, jack=jack).exists():
        raise JackFedTwice(jack=f"{pedal.ref}.{jack.name}")


def _check_setting(feed: Feed, supply: SupplyPlacement, outlet: Outlet, mv: int | None) -> None:
    name = f"{supply.ref}.{outlet.name}"
    if mv is None:
        return
    ranges = outlet.settings.all()
    if ranges and not any(one.min_mv <= mv <= one.max_mv for one in ranges):
        raise SettingNotOffered(outlet=name, setting=f"{mv / 1000:g} V")
    others = FeedOutlet.objects.filter(supply=supply, outlet=outlet, setting_mv__isnull=False)
    if others.exclude(feed=feed).exclude(setting_mv=mv).exists():
        raise TwoSettings(outlet=name)
