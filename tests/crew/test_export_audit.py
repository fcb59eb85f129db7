import csv
import io

import pytest
from django.urls import reverse

from boardshop.crew.audit import record_event
from boardshop.crew.models import AuditEntry
from tests.crew.shops import audit_of
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("export-audit")
Kind = AuditEntry.Kind


def rows_of(content: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))


def test_everything_comes_oldest_first_and_so_does_the_export(cast: Cast) -> None:
    record_event(cast.shop, cast.editor, Kind.SHARE, 'a "quoted", name\nin two lines')
    answer = cast.browser("owner").get(URL)
    assert answer["Content-Disposition"] == 'attachment; filename="boardshop-audit.csv"'
    head, share, export = rows_of(answer.content)
    assert head == ["at", "who", "kind", "what"]
    assert share[1:] == [cast.editor.username, "share", 'a "quoted", name\nin two lines']
    assert export[1:] == [cast.owner.username, "export", "audit"]
    assert audit_of(cast.shop)[-1] == ("export", "audit")


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r"])
def test_no_cell_is_run_as_a_formula(cast: Cast, sign: str) -> None:
    # The signs that OWASP's page on CSV injection lists.
    record_event(cast.shop, cast.editor, Kind.SHARE, f"{sign}1+1")
    assert rows_of(cast.browser("owner").get(URL).content)[1][3] == f"'{sign}1+1"


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_only_an_owner_takes_it_out(cast: Cast, role: str) -> None:
    assert cast.browser(role).get(URL).status_code == 403
    assert audit_of(cast.shop) == []


def test_a_stranger_takes_out_only_their_own(cast: Cast) -> None:
    record_event(cast.shop, cast.editor, Kind.SHARE, "board QQQQQ")
    assert b"QQQQQ" not in cast.browser("stranger").get(URL).content


def test_export_audit_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("owner").post(URL).status_code == 405
