"""The record of who came in and what left: kept for the owners of a shop, never changed."""

from django.db.models import QuerySet
from django.db.models.fetch_modes import FETCH_RAISE
from django.http import HttpRequest
from django.utils.translation import gettext as _

from boardshop.crew.access import person_of
from boardshop.crew.models import AuditEntry, Person, Shop
from boardshop.crew.tables import write_table


def record_event(shop: Shop, person: Person | None, kind: AuditEntry.Kind, about: str = "") -> None:
    """Write one line into the shop's audit; the person's name stays when the account goes."""
    AuditEntry.objects.create(shop=shop, person=person, who=str(person or ""), kind=kind, about=about[:400])


def record_export(request: HttpRequest, shop: Shop, about: str) -> None:
    """That this answer took something out of the shop; a HEAD request takes out nothing."""
    if request.method != "HEAD":
        record_event(shop, person_of(request), AuditEntry.Kind.EXPORT, about)


def record_for_person(person: Person, kind: AuditEntry.Kind, about: str = "") -> None:
    """Write the line into every shop of the person: what they did concerns each of them."""
    shops = Shop.objects.filter(memberships__person=person).order_by("pk")
    AuditEntry.objects.bulk_create(
        AuditEntry(shop=shop, person=person, who=str(person), kind=kind, about=about[:400]) for shop in shops
    )


def record_on_server(person: Person, about: str) -> None:
    """What whoever runs the server did to the person's account, in every shop of theirs."""
    shops = Shop.objects.filter(memberships__person=person).order_by("pk")
    kind, who, said = AuditEntry.Kind.SECURITY_CHANGED, _("(on the server)"), f"{person}: {about}"
    AuditEntry.objects.bulk_create(
        AuditEntry(shop=shop, person=None, who=who, kind=kind, about=said[:400]) for shop in shops
    )


def record_refused_sign_in(username: str, address: str) -> None:
    """Somebody who has not shown who they are tried this account; nothing is written for a name of nobody."""
    person = Person.objects.filter(username__iexact=username[:150]).first()
    if person is not None:
        record_for_person(
            person, AuditEntry.Kind.SIGN_IN_REFUSED, _("from %(address)s") % {"address": address}
        )


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
