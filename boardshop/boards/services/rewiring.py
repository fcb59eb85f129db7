"""Many links moved at once, in a number of statements that does not grow with them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from boardshop.boards.models import Item, Link
from boardshop.boards.services.directory import End

ENDS = ("from_item", "from_jack", "from_name", "to_item", "to_jack", "to_name", "carries")
OUTSIDE_THE_INDEX = "usb"
"""Links that carry this are not in the index that allows one link an input."""


@dataclass(frozen=True)
class Change:
    """A stored or a new link and the two jacks that it is to join with a signal."""

    link: Link
    start: End
    end: End


def rewire(changes: Sequence[Change], removed: Sequence[Link]) -> None:
    """Store the changes and take the others away; at most six statements.

    Postgres checks a unique index row by row, so links that swap inputs would meet in the middle: the
    stored ones first leave the index, then all take their new ends.
    """
    for change in changes:
        columns = change.start.columns("from") | change.end.columns("to") | {"carries": "signal"}
        for name, value in columns.items():
            setattr(change.link, name, value)
    stored = [change.link for change in changes if change.link.pk]
    fresh = [change.link for change in changes if not change.link.pk]
    if removed:
        _remove(removed)
    if stored:
        rows = Link.objects.filter(pk__in=[link.pk for link in stored])
        rows.update(carries=OUTSIDE_THE_INDEX)
        Link.objects.bulk_update(stored, [*ENDS, "length", "made", "made_cable"])
    if fresh:
        _add(fresh)


def _add(links: Sequence[Link]) -> None:
    """bulk_create refuses models that share a parent's key, so parents and children go one by one."""
    items = Item.objects.bulk_create(
        Item(board_id=link.board_id, position=link.position, ref=link.ref) for link in links
    )
    for link, item in zip(links, items, strict=True):
        link.item_ptr_id = link.pk = item.pk
    children = Link._meta.local_concrete_fields
    Link._base_manager._insert(list(links), fields=children, using=Link.objects.db)  # type: ignore[attr-defined]


def _remove(links: Sequence[Link]) -> None:
    """Nothing points to a link, so there is nothing to look for before it goes."""
    keys = [link.pk for link in links]
    Link._base_manager.filter(pk__in=keys)._raw_delete(Link.objects.db)
    Item._base_manager.filter(pk__in=keys)._raw_delete(Item.objects.db)
