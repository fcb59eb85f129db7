import pytest
from django.urls import reverse

from boardshop.gear.models import DrawerItem
from boardshop.gear.services.keeping import mark_of
from boardshop.gear.shelves import drawer_record
from tests.factories import Cast, make_drawer_item

pytestmark = pytest.mark.django_db


@pytest.fixture
def row(cast: Cast) -> DrawerItem:
    return make_drawer_item(cast.shop, kind="lead", length=600, awg=20)


@pytest.fixture
def url(row: DrawerItem) -> str:
    return reverse("change-drawer-item", args=[row.pk])


def typed(row: DrawerItem, **change: str) -> dict[str, str]:
    shown = {"kind": "lead", "length": "600", "awg": "20", "count": "1"}
    return shown | {"seen": mark_of(drawer_record(row))} | change


def test_an_editor_changes_it(cast: Cast, row: DrawerItem, url: str) -> None:
    cast.browser("editor").post(url, typed(row, count="4", mm2="0.5"))
    row.refresh_from_db()
    assert (row.count, str(row)) == (4, "lead, 600 mm, AWG 20, 0.5 mm²")


def test_what_somebody_changed_meanwhile_is_not_overwritten(cast: Cast, row: DrawerItem, url: str) -> None:
    old = typed(row, note="mine")
    DrawerItem.objects.update(count=2)
    assert cast.browser("editor").post(url, old).status_code == 409
    row.refresh_from_db()
    assert (row.count, row.note) == (2, "")


def test_invalid_input_keeps_what_was_typed(cast: Cast, row: DrawerItem, url: str) -> None:
    answer = cast.browser("editor").post(url, typed(row, length="long"))
    assert answer.status_code == 422
    assert 'value="long"' in answer.text


def test_a_stranger_gets_404(cast: Cast, row: DrawerItem, url: str) -> None:
    assert cast.browser("stranger").post(url, typed(row)).status_code == 404


def test_a_viewer_gets_403(cast: Cast, row: DrawerItem, url: str) -> None:
    assert cast.browser("viewer").post(url, typed(row)).status_code == 403


def test_change_drawer_item_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405
