"""The record of who came in and what left: kept for the owners of a shop, never changed."""

from django.db.models import QuerySet
from django.db.models.fetch_modes import FETCH_RAISE

from boardshop.crew.models import AuditEntry, Person, Shop
from boardshop.crew.tables import write_table


def record_event(shop: Shop, person: Person | None, kind: AuditEntry.Kind, about: str = "") -> None:
    """Write one line into the shop's audit; the person's name stays when the account goes."""
    AuditEntry.objects.create(shop=shop, person=person, who=str(person or ""), kind=kind, about=about[:400])


def list_entries(shop: Shop, kind: str = "") -> QuerySet[AuditEntry]:
    """Newest first; of one kind, or of all."""
    entries = AuditEntry.objects.filter(shop=shop).fetch_mode(FETCH_RAISE)
    return entries.filter(kind=kind) if kind else entries


def audit_table(shop: Shop) -> bytes:
    """Everything, oldest first, as a table; times in UTC as ISO 8601."""
    rows = list_entries(shop).order_by("at", "pk").iterator(chunk_size=2000)
    return write_table(
        ["at", "who", "kind", "what"],
        ([entry.at.isoformat(timespec="seconds"), entry.who, entry.kind, entry.about] for entry in rows),
    )
