from typing import Any

import pytest
from django.urls import reverse

from boardshop.gear.kinds import KINDS
from boardshop.gear.models import CableStock, PedalModel
from tests.factories import (
    Cast,
    make_cable_type,
    make_drawer_item,
    make_frame_model,
    make_pedal_model,
    make_plug_type,
    make_ready_made,
    make_stock,
    make_supply_model,
    make_unit,
)

pytestmark = pytest.mark.django_db
MAKERS = {
    "pedals": make_pedal_model,
    "supplies": make_supply_model,
    "frames": make_frame_model,
    "cables": make_cable_type,
    "plugs": make_plug_type,
    "stock": make_stock,
    "ready-made": make_ready_made,
    "drawer": make_drawer_item,
    "units": make_unit,
}


def url(kind: str, row: Any) -> str:
    return reverse("delete-gear", args=[kind, row.pk])


@pytest.mark.parametrize("kind", [kind.slug for kind in KINDS])
def test_each_kind_is_taken_off_after_a_question(cast: Cast, kind: str) -> None:
    row = MAKERS[kind](cast.shop)
    browser = cast.browser("editor")
    assert "off the list?" in browser.get(url(kind, row)).text
    assert type(row).objects.filter(pk=row.pk).exists()
    assert browser.post(url(kind, row)).url == reverse("gear") + f"?kind={kind}"
    assert not type(row).objects.filter(pk=row.pk).exists()


def test_a_model_of_which_there_are_units_stays(cast: Cast) -> None:
    unit = make_unit(cast.shop, pedal=make_pedal_model(cast.shop, name="Ember"), serial="KE-0042")
    answer = cast.browser("editor").post(url("pedals", unit.pedal))
    assert answer.status_code == 422
    assert "still used by unit Ember KE-0042" in answer.text
    assert PedalModel.objects.filter(pk=unit.pedal.pk).exists()


def test_the_question_tells_of_the_stock_that_goes_too(cast: Cast) -> None:
    stock = make_stock(cast.shop)
    assert "One length of it in stock" in cast.browser("editor").get(url("cables", stock.cable)).text
    cast.browser("editor").post(url("cables", stock.cable))
    assert not CableStock.objects.exists()


def test_a_kind_that_is_none_is_not_found(cast: Cast) -> None:
    assert cast.browser("editor").get(url("toasters", make_pedal_model(cast.shop))).status_code == 404


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").post(url("pedals", make_pedal_model(cast.shop))).status_code == 404


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(url("pedals", make_pedal_model(cast.shop))).status_code == 403


def test_delete_gear_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").put(url("pedals", make_pedal_model(cast.shop))).status_code == 405
