"""A HEAD request asks what a GET would answer and leaves all as it was (RFC 9110, 9.2.1 and 9.3.2)."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from boardshop.crew.models import AuditEntry
from tests.factories import make_person
from tests.house.test_every_address_is_guarded import ADDRESSES, Walk, browser_of, walk

pytestmark = pytest.mark.django_db
__all__ = ["walk"]

OF_THE_DEVICE = ("django_session", "usersessions_usersession", "crew_counter")
"""Who is signed in where, and the locks and counters that keep guesses slow; none is a thing of the shop."""
TAKEN_OUT = {
    *{"export-audit", "export-gear", "export-made-cables", "board-file", "revision-file", "revision-report"}
}
"""What an owner finds in the audit."""


def writes(queries: CaptureQueriesContext) -> list[str]:
    verbs = ("INSERT", "UPDATE", "DELETE")
    return [
        query["sql"]
        for query in queries
        if query["sql"].startswith(verbs) and not any(table in query["sql"] for table in OF_THE_DEVICE)
    ]


def test_a_head_request_writes_nothing_anywhere(walk: Walk) -> None:
    owner = make_person(walk.shop, "owner")
    for name, route in ADDRESSES:
        address, browser = walk.fill(route), browser_of(owner)
        with CaptureQueriesContext(connection) as queries:
            browser.head(address)
        assert writes(queries) == [], name


def test_what_is_taken_out_is_recorded_once_and_nothing_else_is(walk: Walk) -> None:
    browser = browser_of(make_person(walk.shop, "owner"))
    recorded = set[str]()
    for name, route in ADDRESSES:
        before = AuditEntry.objects.filter(kind="export").count()
        browser.get(walk.fill(route))
        count = AuditEntry.objects.filter(kind="export").count() - before
        assert count in (0, 1), name
        recorded |= {name} if count else set()
    assert recorded == TAKEN_OUT


def test_only_what_was_sent_is_recorded(walk: Walk) -> None:
    browser = browser_of(make_person(walk.shop, "owner"))
    address = reverse("board-file", args=[walk.board.code])
    assert browser.head(address).status_code == 200
    assert browser.get(address).status_code == 200
    assert AuditEntry.objects.filter(kind="export").count() == 1
