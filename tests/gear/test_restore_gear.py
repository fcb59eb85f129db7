"""Gear in the trash: shown on no list, offered nowhere, and put back for 30 days."""

from datetime import timedelta
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.crew.trash import KEPT_DAYS, kept_since
from boardshop.gear.errors import GearInUse
from boardshop.gear.kinds import KINDS
from boardshop.gear.models import CableStock, PedalModel, Unit
from boardshop.gear.services import delete_gear, purge_gear
from tests.factories import Cast, make_cable_type, make_pedal_model, make_stock, make_unit
from tests.gear.test_delete_gear import MAKERS

pytestmark = pytest.mark.django_db
SLUGS = [kind.slug for kind in KINDS]


def url(kind: str, row: Any) -> str:
    return reverse("restore-gear", args=[kind, row.pk])


def trashed(row: Any, days: int = 0) -> Any:
    delete_gear(row)
    type(row).with_trash.filter(pk=row.pk).update(trashed_at=timezone.now() - timedelta(days=days))
    return row


@pytest.mark.parametrize("kind", SLUGS)
def test_each_kind_is_put_back(cast: Cast, kind: str) -> None:
    row = trashed(MAKERS[kind](cast.shop))
    browser = cast.browser("editor")
    assert url(kind, row) in browser.get(reverse("trash")).text
    answer = browser.post(url(kind, row), follow=True)
    assert "is back on its list" in answer.text
    assert reverse("delete-gear", args=[kind, row.pk]) in answer.text
    assert url(kind, row) not in answer.text
    assert type(row).objects.filter(pk=row.pk).exists()


@pytest.mark.parametrize("kind", SLUGS)
def test_what_lies_in_the_trash_is_on_no_list_and_no_page(cast: Cast, kind: str) -> None:
    row = MAKERS[kind](cast.shop)
    browser, mark = cast.browser("editor"), f"/gear/{kind}/{row.pk}"
    listing = reverse("gear") + f"?kind={kind}"
    assert mark in browser.get(listing).text
    lines = len(browser.get(reverse("export-gear", args=[kind])).text.splitlines())
    trashed(row)
    assert mark not in browser.get(listing).text
    assert len(browser.get(reverse("export-gear", args=[kind])).text.splitlines()) == lines - 1
    assert browser.get(reverse("delete-gear", args=[kind, row.pk])).status_code == 404


def test_the_trash_says_who_deleted_it_and_how_long_it_stays(cast: Cast) -> None:
    row = make_pedal_model(cast.shop, name="Ember")
    browser = cast.browser("editor")
    answer = browser.post(reverse("delete-gear", args=["pedals", row.pk]), follow=True)
    assert reverse("trash") in answer.text
    page = browser.get(reverse("trash")).text
    assert str(PedalModel.with_trash.get(pk=row.pk).trashed_by) in page
    assert f">{KEPT_DAYS}</td>" in page


def test_a_name_in_the_trash_is_free(cast: Cast) -> None:
    trashed(make_pedal_model(cast.shop, maker="Kiln", name="Ember"))
    assert make_pedal_model(cast.shop, maker="Kiln", name="Ember").trashed_at is None


@pytest.mark.parametrize("kind", ["pedals", "supplies", "frames", "cables", "plugs"])
def test_a_name_taken_since_is_refused_with_the_way_out(cast: Cast, kind: str) -> None:
    row = trashed(MAKERS[kind](cast.shop, name="Ember"))
    MAKERS[kind](cast.shop, name="EMBER")
    answer = cast.browser("editor").post(url(kind, row))
    assert answer.status_code == 422
    assert "Rename that one first" in answer.text
    assert not type(row).objects.filter(pk=row.pk).exists()


def test_a_serial_taken_since_is_refused(cast: Cast) -> None:
    unit = trashed(make_unit(cast.shop, serial="KE-0042"))
    make_unit(cast.shop, pedal=unit.pedal, serial="ke-0042")
    assert cast.browser("editor").post(url("units", unit)).status_code == 422


def test_a_model_goes_when_its_only_units_lie_in_the_trash(cast: Cast) -> None:
    unit = make_unit(cast.shop)
    with pytest.raises(GearInUse):
        delete_gear(unit.pedal)
    trashed(unit)
    delete_gear(unit.pedal)
    answer = cast.browser("editor").post(url("units", unit))
    assert answer.status_code == 422
    assert "put that back first" in answer.text
    cast.browser("editor").post(url("pedals", unit.pedal))
    assert cast.browser("editor").post(url("units", unit)).status_code == 302


def test_stock_goes_and_comes_back_with_its_cable(cast: Cast) -> None:
    stock = make_stock(cast.shop, cable=make_cable_type(cast.shop))
    trashed(stock.cable)
    assert not CableStock.objects.exists()
    cast.browser("editor").post(url("cables", stock.cable))
    assert CableStock.objects.get() == stock


@pytest.mark.parametrize(("days", "status"), [(KEPT_DAYS - 1, 302), (KEPT_DAYS + 1, 422)])
def test_it_is_put_back_for_thirty_days(cast: Cast, days: int, status: int) -> None:
    row = trashed(make_pedal_model(cast.shop), days)
    assert cast.browser("editor").post(url("pedals", row)).status_code == status


def test_the_second_put_back_is_refused_on_a_page(cast: Cast) -> None:
    row = trashed(make_pedal_model(cast.shop))
    browser = cast.browser("editor")
    assert browser.post(url("pedals", row)).status_code == 302
    answer = browser.post(url("pedals", row))
    assert answer.status_code == 422
    assert "no longer in the trash" in answer.text


def test_purging_takes_units_before_their_model_and_leaves_the_young(cast: Cast) -> None:
    unit = make_unit(cast.shop)
    trashed(unit, KEPT_DAYS + 1)
    trashed(unit.pedal, KEPT_DAYS + 1)
    young = trashed(make_pedal_model(cast.shop, name="Young"), KEPT_DAYS - 1)
    assert purge_gear(kept_since()) == (2, [])
    assert list(PedalModel.with_trash.all()) == [young]
    assert not Unit.with_trash.exists()


def test_purging_leaves_and_names_what_something_still_holds(cast: Cast) -> None:
    unit = make_unit(cast.shop, pedal=make_pedal_model(cast.shop, maker="", name="Ember"))
    PedalModel.objects.update(trashed_at=timezone.now() - timedelta(days=KEPT_DAYS + 1))
    assert purge_gear(kept_since()) == (0, ["Ember"])
    assert Unit.objects.get() == unit


def test_the_page_needs_as_many_queries_for_many_rows(
    cast: Cast, django_assert_num_queries: Any, django_assert_max_num_queries: Any
) -> None:
    browser = cast.browser("editor")
    for maker in MAKERS.values():
        trashed(maker(cast.shop))
    with django_assert_max_num_queries(20) as first:
        browser.get(reverse("trash"))
    for name in ("A", "B", "C"):
        trashed(make_pedal_model(cast.shop, name=name))
        trashed(make_unit(cast.shop, serial=name))
    with django_assert_num_queries(len(first)):
        browser.get(reverse("trash"))


def test_a_stranger_gets_404_and_a_viewer_403(cast: Cast) -> None:
    row = trashed(make_pedal_model(cast.shop))
    assert cast.browser("stranger").post(url("pedals", row)).status_code == 404
    assert cast.browser("viewer").post(url("pedals", row)).status_code == 403


def test_restore_gear_refuses_other_methods(cast: Cast) -> None:
    row = trashed(make_pedal_model(cast.shop))
    assert cast.browser("editor").get(url("pedals", row)).status_code == 405
