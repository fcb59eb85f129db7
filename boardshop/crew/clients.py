"""Keeping artists and customers."""

from boardshop.crew.constraints import Refusals, refusals_by
from boardshop.crew.errors import Refusal
from boardshop.crew.models import Client


class ClientNameTaken(Refusal):
    """This shop already has an artist or customer named %(name)s; add a word that tells the two apart."""

    field = "name"


CLIENT_REFUSALS: Refusals = {"client_name_once_per_shop": ClientNameTaken}


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
