import pytest
from django.urls import reverse

from boardshop.gear.models import SupplyModel
from boardshop.gear.services.keeping import mark_of
from boardshop.gear.shelves import supply_record
from tests.factories import Cast, make_supply_model
from tests.gear.forms import rows, supply

pytestmark = pytest.mark.django_db


@pytest.fixture
def model(cast: Cast) -> SupplyModel:
    model = make_supply_model(cast.shop, name="Eight", outlets="1 2")
    model.outlets.get(name="1").settings.create(min_mv=9000, max_mv=9000, max_ma=500)
    return model


@pytest.fixture
def url(model: SupplyModel) -> str:
    return reverse("change-supply-model", args=[model.pk])


def typed(model: SupplyModel, first: str = "1") -> dict[str, object]:
    outlets = [{"was": "1", "name": first, "settings": "9 V 500 mA"}, {"was": "2", "name": "2"}]
    return supply(outlets=outlets, seen=mark_of(supply_record(model)))


def test_a_renamed_outlet_keeps_its_row_and_settings(cast: Cast, model: SupplyModel, url: str) -> None:
    before, setting = model.outlets.get(name="1").pk, model.outlets.get(name="1").settings.get().pk
    cast.browser("editor").post(url, typed(model, "9V-1"))
    assert model.outlets.get(name="9V-1").pk == before
    assert model.outlets.get(name="9V-1").settings.get().pk == setting


def test_where_its_plugs_go_and_how_it_converts_are_kept(cast: Cast, model: SupplyModel, url: str) -> None:
    facts = {"outlet_side": "front", "inlet_side": "rear", "conversion": "linear"}
    cast.browser("editor").post(url, typed(model) | facts)
    model.refresh_from_db()
    assert {name: getattr(model, name) for name in facts} == facts
    wrong = cast.browser("editor").post(url, typed(model) | {"conversion": "steam"})
    assert wrong.status_code == 422
    shown = cast.browser("viewer").get(reverse("show-supply-model", args=[model.pk])).text
    assert "linear" in shown


def test_leads_are_shown_changed_and_taken_off(cast: Cast, model: SupplyModel, url: str) -> None:
    model.leads.create(length=450, awg=22, count=4)
    row = model.leads.get()
    browser = cast.browser("editor")
    shown = browser.get(url).context["sheet"].rows["leads"]
    assert [[lead[name].value() for name in ("length", "awg", "count")] for lead in shown] == [
        ["450", "22", "4"]
    ]
    same = typed(model) | rows("leads", {"length": "450", "awg": "22", "count": "4"})
    browser.post(url, same)
    assert model.leads.get() == row
    other = typed(model) | rows("leads", {"length": "300"}, {"length": "450", "DELETE": "on"})
    browser.post(url, other)
    assert [(lead.length, lead.awg, lead.count) for lead in model.leads.all()] == [(300, None, 1)]
    browser.post(url, typed(model))
    assert not model.leads.exists()


def test_the_page_shows_the_settings_as_they_are_typed(cast: Cast, url: str) -> None:
    assert 'value="9V 500mA"' in cast.browser("editor").get(url).text


def test_what_somebody_changed_meanwhile_is_not_overwritten(cast: Cast, model: SupplyModel, url: str) -> None:
    old = typed(model)
    SupplyModel.objects.update(weight=900)
    answer = cast.browser("editor").post(url, old | {"note": "mine"})
    assert answer.status_code == 409
    assert answer.context["sheet"].form["note"].value() == "mine"


def test_invalid_input_keeps_what_was_typed(cast: Cast, model: SupplyModel, url: str) -> None:
    answer = cast.browser("editor").post(url, typed(model) | {"width": "wide"})
    assert answer.status_code == 422
    assert 'value="wide"' in answer.text


def test_a_stranger_gets_404(cast: Cast, model: SupplyModel, url: str) -> None:
    assert cast.browser("stranger").post(url, typed(model)).status_code == 404


def test_a_viewer_gets_403(cast: Cast, model: SupplyModel, url: str) -> None:
    assert cast.browser("viewer").post(url, typed(model)).status_code == 403


def test_change_supply_model_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405
