"""The record of who came in and what left: kept for the owners of a shop, never changed."""

from boardshop.crew.models import AuditEntry, Person, Shop


def record_event(shop: Shop, person: Person | None, kind: AuditEntry.Kind, about: str = "") -> None:
    """Write one line into the shop's audit; the person's name stays when the account goes."""
    AuditEntry.objects.create(shop=shop, person=person, who=str(person or ""), kind=kind, about=about[:400])
