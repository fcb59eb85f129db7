"""The file between dry run and apply: signed, so that it comes back as shown, and bound to one list."""

import base64
import binascii
from dataclasses import dataclass

from django.core import signing

from boardshop.crew.errors import Refusal
from boardshop.crew.models import Shop
from boardshop.gear.kinds import GearKind

SALT = "boardshop.gear.csv_import"


class NotCarried(Refusal):
    """This dry run cannot be applied here: it was made for another list, or it was changed.
    Bring the file in again.
    """


@dataclass(frozen=True)
class Carried:
    content: bytes
    mark: str


def pack(shop: Shop, kind: GearKind, carried: Carried) -> str:
    """As text for a hidden field."""
    whole = {
        "shop": shop.pk,
        "kind": kind.slug,
        "mark": carried.mark,
        "file": base64.b85encode(carried.content).decode("ascii"),
    }
    return signing.dumps(whole, salt=SALT, compress=True)


def unpack(shop: Shop, kind: GearKind, text: str) -> Carried:
    """Raises NotCarried."""
    try:
        whole = signing.loads(text, salt=SALT)
        if (whole["shop"], whole["kind"]) != (shop.pk, kind.slug):
            raise NotCarried
        return Carried(base64.b85decode(whole["file"]), whole["mark"])
    except (signing.BadSignature, KeyError, TypeError, ValueError, binascii.Error) as error:
        raise NotCarried from error
