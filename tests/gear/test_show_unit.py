import pytest
from django.urls import reverse

from tests.factories import Cast, make_pedal_model, make_supply_model, make_unit

pytestmark = pytest.mark.django_db


def url(unit: object) -> str:
    return reverse("show-unit", args=[unit.pk])


def test_the_unit_and_what_was_measured_are_shown(cast: Cast) -> None:
    unit = make_unit(cast.shop, serial="KE-0042", settings="gain 3\ntone 5")
    unit.draws.create(measured=12, by="Jo")
    text = cast.browser("viewer").get(url(unit)).text
    assert "KE-0042" in text
    assert "12 mA" in text
    assert "gain 3<br>tone 5" in text
    assert "not recorded" in text


def test_only_an_editor_of_a_pedal_that_needs_power_is_asked_for_a_draw(cast: Cast) -> None:
    powered = make_unit(cast.shop, pedal=make_pedal_model(cast.shop, power="DC"))
    passive, supply = make_unit(cast.shop), make_unit(cast.shop, supply=make_supply_model(cast.shop))
    asked = [
        reverse("measure-draw", args=[unit.pk]) in cast.browser(role).get(url(unit)).text
        for unit, role in ((powered, "editor"), (powered, "viewer"), (passive, "editor"), (supply, "editor"))
    ]
    assert asked == [True, False, False, False]


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").get(url(make_unit(cast.shop))).status_code == 404


def test_show_unit_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(url(make_unit(cast.shop))).status_code == 405
