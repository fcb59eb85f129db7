"""What the trash page shows of the last 30 days: boards, pedals off boards, clients, each kind of gear."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import FETCH_RAISE
from django.urls import reverse
from django.utils.translation import gettext as _

from boardshop.boards.services.trash import removed_pedals, trashed_boards
from boardshop.crew.models import Client, Shop
from boardshop.crew.trash import days_left, kept_since
from boardshop.gear.kinds import KINDS, STOCK, UNITS, GearKind

MOST_ROWS = 200
"""Of each kind; the newest are shown, and the page says that there are more."""


@dataclass(frozen=True)
class TrashRow:
    label: str
    who: str
    when: datetime
    days_left: int
    restore_address: str


@dataclass(frozen=True)
class TrashSection:
    """One kind of things; `is_cut` where there are more than the page shows."""

    title: str
    rows: list[TrashRow]
    is_cut: bool = False


def trash_sections(shop: Shop) -> list[TrashSection]:
    """Those that hold anything, each in one query."""
    found = [_boards(shop), _pedals(shop), _clients(shop), *(_gear(shop, kind) for kind in KINDS)]
    return [section for section in found if section.rows]


def _boards(shop: Shop) -> TrashSection:
    rows = [
        _row(f"{board.name} ({board.code})", board.trashed_by, board.trashed_at, "restore-board", board.code)
        for board in trashed_boards(shop)[: MOST_ROWS + 1]
    ]
    return _section(_("Boards"), rows)


def _pedals(shop: Shop) -> TrashSection:
    rows = [
        _row(
            _("%(pedals)s, taken off %(board)s")
            % {"pedals": ", ".join(change.removed), "board": change.board.name},
            change.who,
            change.at,
            "restore-pedal",
            change.board.code,
            change.number,
        )
        for change in removed_pedals(shop)[: MOST_ROWS + 1]
    ]
    return _section(_("Pedals taken off boards"), rows)


def _clients(shop: Shop) -> TrashSection:
    clients = Client.with_trash.filter(shop=shop, trashed_at__gte=kept_since()).select_related("trashed_by")
    rows = [
        _row(client.name, client.trashed_by, client.trashed_at, "restore-client", client.pk)
        for client in clients.order_by("-trashed_at", "-pk").fetch_mode(FETCH_RAISE)[: MOST_ROWS + 1]
    ]
    return _section(_("Artists and customers"), rows)


def _gear(shop: Shop, kind: GearKind) -> TrashSection:
    trashed = kind.rows().model.with_trash.filter(shop=shop, trashed_at__gte=kept_since())
    related = {UNITS: ["pedal", "supply"], STOCK: ["cable"]}.get(kind, [])
    trashed = trashed.select_related("trashed_by", *related).order_by("-trashed_at", "-pk")
    rows = [
        _row(_name(row), row.trashed_by, row.trashed_at, "restore-gear", kind.slug, row.pk)
        for row in trashed.fetch_mode(FETCH_RAISE)[: MOST_ROWS + 1]
    ]
    return _section(str(kind.label), rows)


def _name(row: Any) -> str:
    return f"{row.cable}: {row}" if hasattr(row, "cable") else str(row)


def _row(label: str, who: object, when: datetime | None, address: str, *names: object) -> TrashRow:
    assert when is not None, "what is in the trash has its day"
    said = _("somebody who left") if who is None or who == "" else str(who)
    return TrashRow(label, said, when, days_left(when), reverse(address, args=names))


def _section(title: str, rows: list[TrashRow]) -> TrashSection:
    return TrashSection(title, rows[:MOST_ROWS], is_cut=len(rows) > MOST_ROWS)
