from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.access import get_board_for
from boardshop.boards.services.revisions import release_revision
from boardshop.crew.audit import record_event
from boardshop.crew.models import AuditEntry
from tests.board_factories import make_board
from tests.crew.shops import audit_of
from tests.factories import Cast, make_person

pytestmark = pytest.mark.django_db
URL = reverse("audit")
Kind = AuditEntry.Kind


@pytest.fixture
def entry(cast: Cast) -> AuditEntry:
    record_event(cast.shop, cast.editor, Kind.EXPORT, "boardshop-pedals.csv")
    return AuditEntry.objects.get()


def test_the_newest_stands_first(cast: Cast) -> None:
    for name in ("first", "second", "third"):
        record_event(cast.shop, cast.owner, Kind.SHARE, name)
    entries = cast.browser("owner").get(URL).context["entries"]
    assert [one.about for one in entries] == ["third", "second", "first"]


def test_one_kind_can_be_looked_up(cast: Cast, entry: AuditEntry) -> None:
    record_event(cast.shop, cast.owner, Kind.SHARE, "board QQQQQ")
    text = cast.browser("owner").get(URL, {"kind": "export"}).text
    assert "boardshop-pedals.csv" in text
    assert "QQQQQ" not in text


def test_an_unknown_kind_is_refused(cast: Cast) -> None:
    assert cast.browser("owner").get(URL, {"kind": "rumour"}).status_code == 422


def test_it_comes_by_the_page(cast: Cast) -> None:
    for number in range(101):
        record_event(cast.shop, cast.owner, Kind.SHARE, f"share {number}")
    browser = cast.browser("owner")
    assert "1 to 100 of 101" in browser.get(URL).text
    assert "share 0<" in browser.get(URL, {"page": 2}).text


@pytest.mark.parametrize("rows", [1, 40])
def test_the_queries_do_not_grow(cast: Cast, rows: int, django_assert_num_queries: Any) -> None:
    for _ in range(rows):
        record_event(cast.shop, make_person(), Kind.SHARE)
    browser = cast.browser("owner")
    # Session, person, membership, count, entries, shops of the masthead.
    with django_assert_num_queries(6):
        browser.get(URL)


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_only_an_owner_reads_it(cast: Cast, role: str) -> None:
    assert cast.browser(role).get(URL).status_code == 403


def test_a_stranger_reads_only_their_own(cast: Cast, entry: AuditEntry) -> None:
    assert "boardshop-pedals.csv" not in cast.browser("stranger").get(URL).text


def test_who_belongs_to_no_shop_gets_404(client: Browser) -> None:
    client.force_login(make_person())
    assert client.get(URL).status_code == 404


def test_audit_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("owner").post(URL).status_code == 405


@pytest.mark.parametrize(
    "columns", [{"who": "x"}, {"about": ""}, {"kind": "share"}, {"at": "2020-01-01T00:00Z"}]
)
def test_postgres_refuses_to_change_an_entry(cast: Cast, entry: AuditEntry, columns: dict[str, str]) -> None:
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        AuditEntry.objects.update(**columns)
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        AuditEntry.objects.update(person=None, **columns)
    with pytest.raises(IntegrityError, match="never changed"), transaction.atomic():
        AuditEntry.objects.update(person=cast.owner)


def test_the_name_stays_when_the_account_goes(cast: Cast, entry: AuditEntry) -> None:
    name = cast.editor.username
    cast.editor.delete()
    entry.refresh_from_db()
    assert (entry.person, entry.who) == (None, name)


def test_a_gear_table_and_a_board_file_that_leave_are_recorded(cast: Cast) -> None:
    board = make_board(cast.shop, 2, name="Ember")
    browser = cast.browser("viewer")
    browser.get(reverse("export-gear", args=["pedals"]))
    browser.get(reverse("board-file", args=[board.code]))
    assert audit_of(cast.shop) == [
        ("export", "boardshop-pedals.csv"),
        ("export", f"ember-{board.code}.json"),
    ]


def test_a_revision_that_leaves_as_a_file_is_recorded(cast: Cast) -> None:
    board = get_board_for(cast.editor, make_board(cast.shop, 2, name="Ember").code)
    release_revision(board, board.edit_number, reason="to be taken out")
    browser = cast.browser("viewer")
    for name in ("revision-file", "revision-report"):
        assert browser.get(reverse(name, args=[board.code, 1])).status_code == 200
    left = AuditEntry.objects.filter(shop=cast.shop, kind=Kind.EXPORT, person=cast.viewer).order_by("pk")
    assert [entry.about for entry in left] == [
        f"ember-{board.code}-revision-1.json",
        f"ember-{board.code}-revision-1-report.json",
    ]
