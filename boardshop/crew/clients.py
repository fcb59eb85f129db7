"""Keeping artists and customers, taking them off the list, and putting them back on it."""

from datetime import datetime

from django.db import transaction
from django.db.models import ProtectedError

from boardshop.crew.constraints import Refusals, refusals_by, uses_of
from boardshop.crew.errors import Refusal
from boardshop.crew.models import Client, Person
from boardshop.crew.trash import kept_since, put_in_trash, take_out


class ClientNameTaken(Refusal):
    """This shop already has an artist or customer named %(name)s; add a word that tells the two apart."""

    field = "name"


class ClientInUse(Refusal):
    """%(name)s stays on the list: still named by %(users)s. Choose somebody else there first."""


class ClientNotInTrash(Refusal):
    """%(name)s is no longer in the trash: put back already, or the 30 days are over."""


class ClientNameTakenSince(Refusal):
    """%(name)s cannot be put back: another artist or customer of this name was added since. Rename that one
    first, then put this one back.
    """


NAME_ONCE = "client_name_once_per_shop"
CLIENT_REFUSALS: Refusals = {NAME_ONCE: ClientNameTaken}


def keep_client(client: Client) -> Client:
    """Store a new or changed artist or customer.

    Raises ClientNameTaken when another one of the shop has the name, also in a race.
    """
    others = Client.objects.filter(shop_id=client.shop_id, name__iexact=client.name).exclude(pk=client.pk)
    if others.exists():
        raise ClientNameTaken(name=client.name)
    with refusals_by(CLIENT_REFUSALS, name=client.name):
        client.save()
    return client


@transaction.atomic
def delete_client(client: Client, person: Person | None = None) -> None:
    """Into the trash; raises ClientInUse while boards or units outside the trash are theirs, and names these.

    Deleted a second time they keep their day.
    """
    found = _locked(client)
    users = uses_of(found)
    if users:
        raise ClientInUse(name=found.name, users=users)
    if found.trashed_at is None:
        put_in_trash(found, person)


@transaction.atomic
def restore_client(client: Client) -> None:
    """Raises ClientNotInTrash, or ClientNameTakenSince."""
    found = _locked(client)
    if found.trashed_at is None or found.trashed_at < kept_since():
        raise ClientNotInTrash(name=found.name)
    with refusals_by({NAME_ONCE: ClientNameTakenSince}, name=found.name):
        take_out(found)


def purge_clients(before: datetime) -> tuple[int, list[str]]:
    """Delete for good those who lie in the trash since before that time.

    Returns how many went, and the names of those whose boards or units lie in the trash too.
    """
    gone, held = 0, list[str]()
    for client in Client.with_trash.filter(trashed_at__lt=before).order_by("pk"):
        try:
            with transaction.atomic():
                client.delete()
        except ProtectedError:
            held.append(client.name)
        else:
            gone += 1
    return gone, held


def _locked(client: Client) -> Client:
    """As the row is now; of two who delete or put back at once, one waits."""
    return Client.with_trash.select_for_update().get(pk=client.pk)
