from decimal import Decimal

import pytest
from django.urls import reverse

from boardshop.gear.models import CableType
from tests.factories import Cast, make_cable_type

pytestmark = pytest.mark.django_db
URL = reverse("add-cable-type")
TYPED = {
    "name": "Low 60",
    "pf_per_m": "60",
    "diameter": "6,2 mm",
    "min_bend": "",
    "cores": "1",
    "price": "2,40",
}


def test_a_cable_type_is_kept(cast: Cast) -> None:
    assert cast.browser("editor").post(URL, TYPED).url == reverse("gear") + "?kind=cables"
    cable = CableType.objects.get()
    assert (cable.pf_per_m, cable.diameter, cable.price) == (60, Decimal("6.2"), Decimal("2.4"))
    assert cable.min_bend is None


def test_a_figure_per_foot_is_turned_into_one_per_metre(cast: Cast) -> None:
    # 30 pF/ft = 98.4 pF/m: 1 ft = 0.3048 m exactly.
    cast.browser("editor").post(URL, TYPED | {"pf_per_m": "30 pF/ft"})
    assert CableType.objects.get().pf_per_m == 98


@pytest.mark.parametrize(("pf", "asks"), [("19", True), ("20", False), ("400", False), ("401", True)])
def test_an_unusual_capacitance_is_asked_about_once(cast: Cast, pf: str, asks: bool) -> None:
    answer = cast.browser("editor").post(URL, TYPED | {"pf_per_m": pf})
    assert (answer.status_code == 422) is asks
    if asks:
        assert "tick that it is right" in answer.text
        sure = TYPED | {"pf_per_m": pf, "pf_is_right": "on"}
        assert cast.browser("editor").post(URL, sure).status_code == 302


@pytest.mark.parametrize(
    ("pf", "says"),
    [
        # 12 pF/ft = 39.4 pF/m, 492 pF/m = 150 pF/ft: 1 ft = 0.3048 m exactly.
        ("12", "Did you mean 12 pF per foot? That is 39.4 pF/m; write 12 pF/ft."),
        ("492", "taken for one per foot? Then it is 150 pF/m."),
        ("150 pF/ft", "taken for one per foot? Then it is 150 pF/m."),
        ("0", "0 pF/m is unusual: instrument cable has 20 to 400. Correct it"),
    ],
)
def test_the_question_says_what_it_would_be_in_the_other_unit(cast: Cast, pf: str, says: str) -> None:
    answer = cast.browser("editor").post(URL, TYPED | {"pf_per_m": pf})
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["form"]["pf_per_m"].value() == pf


def test_the_list_shows_it_per_metre_and_per_foot(cast: Cast) -> None:
    answer = cast.browser("editor").post(URL, TYPED | {"pf_per_m": "30 pF/ft"}, follow=True)
    assert "98 pF/m" in answer.text
    assert "29.9 pF/ft" in answer.text


def test_the_question_stands_on_the_page_only_when_it_is_asked(cast: Cast) -> None:
    assert "pf_is_right" not in cast.browser("editor").get(URL).text


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"name": ""}, "is needed"),
        ({"pf_per_m": "much"}, "30 pF/ft"),
        ({"cores": "1.5"}, "digits only"),
        ({"price": "cheap"}, "1.20 or 1,20"),
        ({"price": "-1"}, "no price"),
        ({"diameter": "0.2 furlong"}, "such as 120 mm"),
    ],
)
def test_a_fault_is_told_and_what_was_typed_is_kept(cast: Cast, change: dict[str, str], says: str) -> None:
    answer = cast.browser("editor").post(URL, TYPED | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["form"]["diameter"].value() == (TYPED | change)["diameter"]
    assert not CableType.objects.exists()


def test_a_name_that_is_taken_is_told(cast: Cast) -> None:
    make_cable_type(cast.shop, name="LOW 60")
    assert "already has" in cast.browser("editor").post(URL, TYPED).text


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, TYPED).status_code == 403


def test_a_strangers_cable_lands_in_their_own_shop(cast: Cast) -> None:
    cast.browser("stranger").post(URL, TYPED)
    assert CableType.objects.get().shop != cast.shop


def test_add_cable_type_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405
