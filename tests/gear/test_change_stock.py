import pytest
from django.urls import reverse

from boardshop.gear.models import CableStock
from boardshop.gear.services.keeping import mark_of
from boardshop.gear.shelves import stock_record
from tests.factories import Cast, make_cable_type, make_stock

pytestmark = pytest.mark.django_db


@pytest.fixture
def row(cast: Cast) -> CableStock:
    return make_stock(cast.shop, cable=make_cable_type(cast.shop, name="Low 60"), tag="R1")


@pytest.fixture
def url(row: CableStock) -> str:
    return reverse("change-stock", args=[row.pk])


def typed(row: CableStock, **change: str) -> dict[str, str]:
    shown = {"cable": "Low 60", "kind": "reel", "length": "10000", "count": "1", "tag": "R1"}
    return shown | {"seen": mark_of(stock_record(row))} | change


def test_an_editor_changes_it(cast: Cast, row: CableStock, url: str) -> None:
    make_cable_type(cast.shop, name="High")
    cast.browser("editor").post(url, typed(row, length="9,5 m", cable="High"))
    row.refresh_from_db()
    assert (row.length, row.cable.name) == (9500, "High")


def test_what_somebody_changed_meanwhile_is_not_overwritten(cast: Cast, row: CableStock, url: str) -> None:
    old = typed(row, tag="R2")
    CableStock.objects.update(length=8000)
    assert cast.browser("editor").post(url, old).status_code == 409


def test_invalid_input_keeps_what_was_typed(cast: Cast, row: CableStock, url: str) -> None:
    answer = cast.browser("editor").post(url, typed(row, length="long"))
    assert answer.status_code == 422
    assert 'value="long"' in answer.text


def test_a_stranger_gets_404(cast: Cast, row: CableStock, url: str) -> None:
    assert cast.browser("stranger").post(url, typed(row)).status_code == 404


def test_a_viewer_gets_403(cast: Cast, row: CableStock, url: str) -> None:
    assert cast.browser("viewer").post(url, typed(row)).status_code == 403


def test_change_stock_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405
