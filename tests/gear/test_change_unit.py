import pytest
from django.urls import reverse

from boardshop.gear.forms.units import model_key
from boardshop.gear.models import Unit
from boardshop.gear.services.keeping import mark_of
from boardshop.gear.shelves import unit_record
from tests.factories import Cast, make_pedal_model, make_unit

pytestmark = pytest.mark.django_db


@pytest.fixture
def row(cast: Cast) -> Unit:
    unit = make_unit(cast.shop, pedal=make_pedal_model(cast.shop, name="Ember", power="DC"), serial="1")
    unit.draws.create(jack="DC", measured=12)
    return unit


@pytest.fixture
def url(row: Unit) -> str:
    return reverse("change-unit", args=[row.pk])


def typed(row: Unit, **change: str) -> dict[str, str]:
    shown = {"model": model_key("pedal", "", "Ember"), "serial": "1", "seen": mark_of(unit_record(row))}
    return shown | change


def test_an_editor_changes_it_and_what_was_measured_stays(cast: Cast, row: Unit, url: str) -> None:
    cast.browser("editor").post(url, typed(row, condition="worn knob"))
    row.refresh_from_db()
    assert (row.condition, row.draws.get().measured) == ("worn knob", 12)


def test_what_somebody_changed_meanwhile_is_not_overwritten(cast: Cast, row: Unit, url: str) -> None:
    old = typed(row, serial="2")
    Unit.objects.update(location="trunk 3")
    assert cast.browser("editor").post(url, old).status_code == 409


def test_invalid_input_keeps_what_was_typed(cast: Cast, row: Unit, url: str) -> None:
    answer = cast.browser("editor").post(url, typed(row, model="", serial="77"))
    assert answer.status_code == 422
    assert 'value="77"' in answer.text


def test_a_stranger_gets_404(cast: Cast, row: Unit, url: str) -> None:
    assert cast.browser("stranger").post(url, typed(row)).status_code == 404


def test_a_viewer_gets_403(cast: Cast, row: Unit, url: str) -> None:
    assert cast.browser("viewer").post(url, typed(row)).status_code == 403


def test_change_unit_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405
