import pytest
from django.urls import reverse

from boardshop.gear.forms.units import model_key
from boardshop.gear.models import Unit
from tests.factories import Cast, make_client, make_pedal_model, make_supply_model, make_unit

pytestmark = pytest.mark.django_db
URL = reverse("add-unit")
TYPED = {
    "model": model_key("pedal", "Kestrel", "Ember"),
    "serial": "KE-0042",
    "owner": "Zora",
    "location": "trunk 3",
}


@pytest.fixture(autouse=True)
def gear(cast: Cast) -> None:
    make_pedal_model(cast.shop, maker="Kestrel", name="Ember")
    make_supply_model(cast.shop, name="Eight")
    make_client(cast.shop, name="Zora")


def test_a_pedal_is_kept(cast: Cast) -> None:
    answer = cast.browser("editor").post(URL, TYPED)
    unit = Unit.objects.get()
    assert answer.url == reverse("show-unit", args=[unit.pk])
    assert (str(unit.pedal), unit.serial, unit.owner.name, unit.location) == (
        "Kestrel Ember",
        "KE-0042",
        "Zora",
        "trunk 3",
    )


def test_a_supply_without_owner_and_serial_is_kept(cast: Cast) -> None:
    cast.browser("editor").post(URL, {"model": model_key("supply", "", "Eight")})
    assert Unit.objects.get().supply.name == "Eight"


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"model": ""}, "is needed"),
        ({"model": "pedal"}, "pedal"),
        ({"owner": "Nobody"}, "Nobody"),
        ({"serial": "x" * 81}, "80"),
    ],
)
def test_a_fault_is_told_and_what_was_typed_is_kept(cast: Cast, change: dict[str, str], says: str) -> None:
    answer = cast.browser("editor").post(URL, TYPED | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["form"]["location"].value() == "trunk 3"


def test_a_serial_that_is_taken_is_told_beside_it(cast: Cast) -> None:
    cast.browser("editor").post(URL, TYPED)
    answer = cast.browser("editor").post(URL, TYPED | {"serial": "ke-0042"})
    assert "already recorded with this serial" in str(answer.context["form"].errors["serial"])


def test_the_gear_of_another_shop_is_not_offered(cast: Cast) -> None:
    assert "Ember" not in cast.browser("stranger").get(URL).text
    assert cast.browser("stranger").post(URL, TYPED).status_code == 422
    assert make_unit(cast.shop).shop == cast.shop


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, TYPED).status_code == 403


def test_add_unit_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405
