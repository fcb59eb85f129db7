from datetime import date

import pytest
from django.urls import reverse

from boardshop.gear.errors import NoSuchPowerJack
from boardshop.gear.models import Unit
from boardshop.gear.records import Draw
from boardshop.gear.services import measure_draw
from tests.factories import Cast, make_pedal_model, make_unit

pytestmark = pytest.mark.django_db
TYPED = {"jack": "DC", "measured": "0,098 A", "on": "2026-03-01", "by": "Jo"}


@pytest.fixture
def unit(cast: Cast) -> Unit:
    return make_unit(cast.shop, pedal=make_pedal_model(cast.shop, power="DC AUX"))


@pytest.fixture
def url(unit: Unit) -> str:
    return reverse("measure-draw", args=[unit.pk])


def test_a_draw_is_recorded_and_a_newer_one_replaces_it(cast: Cast, unit: Unit, url: str) -> None:
    cast.browser("editor").post(url, TYPED | {"measured": "150"})
    assert cast.browser("editor").post(url, TYPED).url == reverse("show-unit", args=[unit.pk])
    draw = unit.draws.get()
    assert (draw.jack, draw.measured, draw.on, draw.by) == ("DC", 98, date(2026, 3, 1), "Jo")


def test_a_name_in_other_capitals_is_the_same_jack(unit: Unit) -> None:
    measure_draw(unit, Draw(jack="aux", measured=10))
    measure_draw(unit, Draw(jack="AUX", measured=11))
    assert unit.draws.get().measured == 11


def test_a_jack_that_its_data_sheet_lacks_is_refused(unit: Unit) -> None:
    with pytest.raises(NoSuchPowerJack, match="its data sheet has DC, AUX"):
        measure_draw(unit, Draw(jack="9V", measured=10))


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"jack": "9V"}, "9V"),
        ({"measured": ""}, "is needed"),
        ({"measured": "much"}, "100 mA"),
        ({"on": "1 March"}, "2026-03-01"),
    ],
)
def test_a_fault_is_told_and_what_was_typed_is_kept(
    cast: Cast, unit: Unit, url: str, change: dict[str, str], says: str
) -> None:
    answer = cast.browser("editor").post(url, TYPED | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["form"]["by"].value() == "Jo"
    assert not unit.draws.exists()


def test_a_stranger_gets_404(cast: Cast, url: str) -> None:
    assert cast.browser("stranger").post(url, TYPED).status_code == 404


def test_a_viewer_gets_403(cast: Cast, url: str) -> None:
    assert cast.browser("viewer").post(url, TYPED).status_code == 403


def test_measure_draw_refuses_get(cast: Cast, url: str) -> None:
    assert cast.browser("editor").get(url).status_code == 405
