"""What an edit must know of a board's power jacks, and of its outlets: one query for each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.db.models import F, OuterRef

from boardshop.boards.errors import JackUnknown, OutletUnknown
from boardshop.boards.models import Board, FeedJack, FeedOutlet, Placement, SupplyPlacement
from boardshop.core.index import fold, split_end
from boardshop.gear.models import Outlet, OutletSetting, PowerJack
from boardshop.gear.sheets import rows_as_json


@dataclass(frozen=True)
class JackSpot:
    """One power jack of a pedal on the board, and the row that feeds it if any."""

    ref: str
    pedal_id: int
    jack_id: int
    row_id: int | None
    feed_id: int | None


@dataclass(frozen=True)
class OutletSpot:
    """One outlet of a supply on the board: what it can be set to, and what its feeds set it to."""

    ref: str
    supply_id: int
    outlet_id: int
    ranges: tuple[tuple[int, int], ...]
    settings: tuple[tuple[int, int], ...]
    """Pairs of a feed's key and the voltage that it chose, mV."""

    @property
    def only_mv(self) -> int | None:
        """The one voltage that it has; None where a hand can choose."""
        if len(self.ranges) != 1 or self.ranges[0][0] != self.ranges[0][1]:
            return None
        return self.ranges[0][0]


class JackDirectory:
    def __init__(self, board: Board) -> None:
        jacks = PowerJack.objects.filter(model=OuterRef("model"))
        feeds = FeedJack.objects.filter(pedal=OuterRef("pk"))
        pedals = Placement.objects.filter(board=board).annotate(
            jack_rows=rows_as_json(jacks, "pk", "name"),
            feed_rows=rows_as_json(
                feeds, "pk", "jack_id", "feed_id", "position", of_feed=F("feed__position")
            ),
        )
        self._spots: dict[str, JackSpot] = {}
        self._rows: list[dict[str, Any]] = []
        for pedal in pedals.values("pk", "ref", "jack_rows", "feed_rows"):
            self._add(pedal)

    def _add(self, pedal: Mapping[str, Any]) -> None:
        self._rows += pedal["feed_rows"]
        fed = {row["jack_id"]: row for row in pedal["feed_rows"]}
        for jack in pedal["jack_rows"]:
            ref, row = f"{pedal['ref']}.{jack['name']}", fed.get(jack["pk"], {})
            spot = JackSpot(ref, pedal["pk"], jack["pk"], row.get("pk"), row.get("feed_id"))
            self._spots[fold(ref)] = spot

    def find(self, end: str) -> JackSpot:
        """The power jack that `P4.DC` names; raises JackUnknown."""
        spot = self._spots.get(fold(end))
        if spot is None:
            raise JackUnknown(end=end, item=split_end(end)[0], field="jack")
        return spot

    def jacks_on(self, feed_id: int) -> int:
        """How many jacks hang on this feed."""
        return Counter(row["feed_id"] for row in self._rows)[feed_id]

    def next_feed_position(self) -> int:
        return max((row["of_feed"] for row in self._rows), default=-1) + 1

    def next_jack_position(self, feed_id: int) -> int:
        on_feed = (row["position"] for row in self._rows if row["feed_id"] == feed_id)
        return max(on_feed, default=-1) + 1


class OutletDirectory:
    def __init__(self, board: Board) -> None:
        ranges = rows_as_json(OutletSetting.objects.filter(outlet=OuterRef("pk")), "min_mv", "max_mv")
        outlets = Outlet.objects.filter(supply=OuterRef("model"))
        chosen = FeedOutlet.objects.filter(supply=OuterRef("pk"), setting_mv__isnull=False)
        supplies = SupplyPlacement.objects.filter(board=board).annotate(
            outlet_rows=rows_as_json(outlets, "pk", "name", ranges=ranges),
            chosen_rows=rows_as_json(chosen, "feed_id", "outlet_id", "setting_mv"),
        )
        spots = (
            _outlet_spot(supply, outlet)
            for supply in supplies.values("pk", "ref", "outlet_rows", "chosen_rows")
            for outlet in supply["outlet_rows"]
        )
        self._spots = {fold(spot.ref): spot for spot in spots}

    def find(self, end: str) -> OutletSpot:
        """The outlet that `S1.4` names; raises OutletUnknown."""
        spot = self._spots.get(fold(end))
        if spot is None:
            ref, name = split_end(end)
            raise OutletUnknown(outlet=name or end, supply=ref)
        return spot


def _outlet_spot(supply: Mapping[str, Any], outlet: Mapping[str, Any]) -> OutletSpot:
    chosen = [row for row in supply["chosen_rows"] if row["outlet_id"] == outlet["pk"]]
    return OutletSpot(
        ref=f"{supply['ref']}.{outlet['name']}",
        supply_id=supply["pk"],
        outlet_id=outlet["pk"],
        ranges=tuple((row["min_mv"], row["max_mv"]) for row in outlet["ranges"]),
        settings=tuple((row["feed_id"], row["setting_mv"]) for row in chosen),
    )
