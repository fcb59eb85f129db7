"""The kinds of gear that a shop keeps lists of: their words, rows, records and the pages for each."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.db.models import FETCH_RAISE, Count, Q, QuerySet
from django.utils.translation import gettext_lazy as _

from boardshop.crew.models import Shop
from boardshop.gear.models import (
    CableStock,
    CableType,
    DrawerItem,
    FrameModel,
    PedalModel,
    PlugType,
    ReadyMade,
    SupplyModel,
    Unit,
)
from boardshop.gear.shelves import whole_units


@dataclass(frozen=True)
class GearKind:
    """`slug` stands in addresses; `found_in` are the columns a search looks at; `page` opens one row."""

    slug: str
    label: Any
    one: Any
    rows: Callable[[], QuerySet[Any]]
    found_in: tuple[str, ...]
    page: str
    add_page: str
    with_rows: Callable[[QuerySet[Any]], QuerySet[Any]] = lambda rows: rows

    @property
    def has_own_page(self) -> bool:
        """Whether a page shows one row, or only its form."""
        return self.page.startswith("show-")

    def of(self, shop: Shop) -> QuerySet[Any]:
        return self.rows().filter(shop=shop)

    def listed(self, shop: Shop, find: str) -> QuerySet[Any]:
        """The found rows with what their list shows, in a constant number of queries."""
        return self.with_rows(self.found(shop, find)).fetch_mode(FETCH_RAISE)

    def found(self, shop: Shop, find: str) -> QuerySet[Any]:
        """Rows in which every word of `find` stands somewhere."""
        rows = self.of(shop)
        for word in find.split()[:MOST_WORDS]:
            anywhere = Q()
            for column in self.found_in:
                anywhere |= Q(**{f"{column}__icontains": word})
            rows = rows.filter(anywhere)
        return rows


MOST_WORDS = 8

PEDALS = GearKind(
    "pedals",
    _("Pedals"),
    _("pedal"),
    lambda: PedalModel.objects.all(),
    ("maker", "name", "kind", "note"),
    "show-pedal-model",
    "add-pedal-model",
    lambda rows: rows.prefetch_related("power_jacks"),
)
SUPPLIES = GearKind(
    "supplies",
    _("Supplies"),
    _("supply"),
    lambda: SupplyModel.objects.all(),
    ("maker", "name", "note"),
    "show-supply-model",
    "add-supply-model",
    lambda rows: rows.annotate(outlet_count=Count("outlets")).order_by("maker", "name"),
)
FRAMES = GearKind(
    "frames",
    _("Frames"),
    _("frame"),
    lambda: FrameModel.objects.all(),
    ("maker", "name", "surface"),
    "show-frame-model",
    "add-frame-model",
)
CABLES = GearKind(
    "cables",
    _("Cables"),
    _("cable type"),
    lambda: CableType.objects.all(),
    ("name",),
    "change-cable-type",
    "add-cable-type",
)
PLUGS = GearKind(
    "plugs",
    _("Plugs"),
    _("plug type"),
    lambda: PlugType.objects.all(),
    ("name", "connector"),
    "change-plug-type",
    "add-plug-type",
)
STOCK = GearKind(
    "stock",
    _("Stock"),
    _("length in stock"),
    lambda: CableStock.objects.select_related("cable"),
    ("cable__name", "tag", "kind"),
    "change-stock",
    "add-stock",
)
READY_MADE = GearKind(
    "ready-made",
    _("Ready-made"),
    _("ready-made cable"),
    lambda: ReadyMade.objects.all(),
    ("name", "connector", "far_connector"),
    "change-ready-made",
    "add-ready-made",
)
DRAWER = GearKind(
    "drawer",
    _("Drawer"),
    _("lead or adapter"),
    lambda: DrawerItem.objects.all(),
    ("kind", "connector", "note"),
    "change-drawer-item",
    "add-drawer-item",
)
UNITS = GearKind(
    "units",
    _("Units"),
    _("unit"),
    lambda: whole_units(Unit.objects.all()),
    (
        *("serial", "location", "condition", "note", "owner__name"),
        *("pedal__maker", "pedal__name", "supply__maker", "supply__name"),
    ),
    "show-unit",
    "add-unit",
)

KINDS = (PEDALS, SUPPLIES, FRAMES, CABLES, PLUGS, STOCK, READY_MADE, DRAWER, UNITS)


def kind_called(slug: str) -> GearKind | None:
    return next((kind for kind in KINDS if kind.slug == slug), None)
