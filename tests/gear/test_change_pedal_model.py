import pytest
from django.urls import reverse

from boardshop.gear.models import PedalJack, PedalModel
from tests.factories import Cast, make_pedal_model, make_unit
from tests.gear.forms import pedal

pytestmark = pytest.mark.django_db


@pytest.fixture
def model(cast: Cast) -> PedalModel:
    return make_pedal_model(cast.shop, name="Ember", kind="fuzz", jacks="IN:in OUT:out", power="DC")


@pytest.fixture
def url(model: PedalModel) -> str:
    return reverse("change-pedal-model", args=[model.pk])


def as_shown(cast: Cast, url: str) -> dict[str, object]:
    """What the browser would post back unchanged."""
    sheet = cast.browser("editor").get(url).context["sheet"]
    typed = {}
    for form in (
        sheet.form,
        *(form for rows in sheet.rows.values() for form in (rows.management_form, *rows)),
    ):
        values = {field.html_name: field.value() for field in form}
        typed |= {name: value for name, value in values.items() if value is not None and value is not False}
    return typed


def test_posting_the_page_back_changes_nothing(cast: Cast, model: PedalModel, url: str) -> None:
    keys = list(PedalJack.objects.values_list("pk", flat=True))
    answer = cast.browser("editor").post(url, as_shown(cast, url))
    assert answer.url == reverse("show-pedal-model", args=[model.pk])
    assert list(PedalJack.objects.values_list("pk", flat=True)) == keys


def test_a_renamed_jack_keeps_its_row(cast: Cast, model: PedalModel, url: str) -> None:
    before = model.jacks.get(name="OUT").pk
    cast.browser("editor").post(url, as_shown(cast, url) | {"jacks-1-name": "OUT_L", "width": "80"})
    model.refresh_from_db()
    assert model.width == 80
    assert model.jacks.get(name="OUT_L").pk == before


def test_a_row_that_is_taken_off_is_gone(cast: Cast, model: PedalModel, url: str) -> None:
    cast.browser("editor").post(url, as_shown(cast, url) | {"jacks-0-DELETE": "on"})
    assert [jack.name for jack in model.jacks.all()] == ["OUT"]


def test_what_somebody_changed_meanwhile_is_not_overwritten(cast: Cast, model: PedalModel, url: str) -> None:
    typed = as_shown(cast, url) | {"weight": "310"}
    PedalModel.objects.filter(pk=model.pk).update(width=99)
    answer = cast.browser("editor").post(url, typed)
    assert answer.status_code == 409
    assert "now different from yours: width, weight" in answer.text
    assert answer.context["sheet"].form["weight"].value() == "310"
    again = typed | {"seen": answer.context["sheet"].form["seen"].value()}
    assert cast.browser("editor").post(url, again).status_code == 302


def test_invalid_input_keeps_what_was_typed(cast: Cast, url: str) -> None:
    answer = cast.browser("editor").post(url, as_shown(cast, url) | {"width": "wide", "maker": "Kestrel"})
    assert answer.status_code == 422
    assert answer.context["sheet"].form["maker"].value() == "Kestrel"


def test_a_draw_of_a_unit_does_not_stop_renaming_its_jack(cast: Cast, model: PedalModel, url: str) -> None:
    unit = make_unit(cast.shop, pedal=model)
    unit.draws.create(jack="DC", measured=9)
    cast.browser("editor").post(url, as_shown(cast, url) | {"power-0-name": "9V"})
    assert unit.draws.get().jack == "9V"


def test_a_stranger_gets_404(cast: Cast, url: str) -> None:
    assert cast.browser("stranger").get(url).status_code == 404
    assert cast.browser("stranger").post(url, pedal()).status_code == 404


def test_a_viewer_gets_403(cast: Cast, url: str) -> None:
    assert cast.browser("viewer").get(url).status_code == 403
    assert cast.browser("viewer").post(url, pedal()).status_code == 403


def test_change_pedal_model_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405


def test_a_toe_and_screws_are_kept_and_shown(cast: Cast, model: PedalModel, url: str) -> None:
    typed = as_shown(cast, url) | {"treadle": "yes", "toe_height": "11.2 cm", "screw_length": "8"}
    cast.browser("editor").post(url, typed)
    model.refresh_from_db()
    assert (model.treadle, model.toe_height, model.screw_length) == (True, 112, 8)
    text = cast.browser("viewer").get(reverse("show-pedal-model", args=[model.pk])).text
    assert "112 mm" in text
    assert "8 mm" in text


def test_a_toe_of_no_height_is_refused(cast: Cast, url: str) -> None:
    assert cast.browser("editor").post(url, as_shown(cast, url) | {"toe_height": "0"}).status_code == 422
