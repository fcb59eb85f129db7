"""The same form sent by several connections at once keeps one file, and the limit holds."""

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from django.db import connection

from boardshop.files.models import Attachment, Content
from boardshop.files.store import receive_files
from boardshop.gear.held_files import GearHolder
from tests.factories import make_shop, make_unit
from tests.files.pictures import picture, sent

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(contents: list[bytes]) -> tuple[int, int]:
    """How many were added and refused, each sent by a connection of its own to one unit."""
    shop = make_shop()
    holder = GearHolder(make_unit(shop))

    def send(content: bytes) -> tuple[int, int]:
        try:
            received = receive_files(holder, shop, None, [sent(content)], "knobs")
            return len(received.added), len(received.refused)
        finally:
            connection.close()

    with ThreadPoolExecutor(len(contents)) as threads:
        answers = list(threads.map(send, contents))
    return sum(added for added, _ in answers), sum(refused for _, refused in answers)


def test_the_same_one_is_kept_once() -> None:
    assert at_once([picture((800, 600))] * 6) == (1, 0)
    assert (Attachment.objects.count(), Content.objects.count()) == (1, 2)


def test_the_limit_holds(settings: Any) -> None:
    settings.FILES_LIMIT_BYTES = 3000
    added, refused = at_once([picture((60 + n, 40)) for n in range(8)])
    assert (added + refused, refused > 0) == (8, True)
    assert sum(Content.objects.values_list("size", flat=True)) <= 3000
