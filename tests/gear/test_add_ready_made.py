from decimal import Decimal

import pytest
from django.urls import reverse

from boardshop.gear.models import ReadyMade
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("add-ready-made")
TYPED = {
    "name": "Flat patch 15",
    "length": "15 cm",
    "connector": "6.35 TS",
    "far_connector": "6.35 TS",
    "pf_per_m": "98",
    "price": "9,80",
    "count": "4",
}


def test_a_cable_is_kept(cast: Cast) -> None:
    assert cast.browser("editor").post(URL, TYPED).url == reverse("gear") + "?kind=ready-made"
    cable = ReadyMade.objects.get()
    assert (cable.name, cable.length, cable.connector, cable.pf_per_m) == (
        "Flat patch 15",
        150,
        "6.35 TS",
        98,
    )
    assert (cable.price, cable.count) == (Decimal("9.8"), 4)


def test_no_more_than_name_and_length_need_be_known(cast: Cast) -> None:
    cast.browser("editor").post(URL, {"name": "Odd one", "length": "20"})
    cable = ReadyMade.objects.get()
    assert (cable.count, cable.connector, cable.price) == (0, "", None)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"name": ""}, "is needed"),
        ({"length": ""}, "is needed"),
        ({"length": "0"}, "A size must be above zero"),
        ({"length": "-3"}, "below zero"),
        ({"length": "150 m"}, "longer than the 100 m that such a cable usually has"),
        ({"connector": "banana"}, "banana"),
        ({"count": "some"}, "no whole number"),
        ({"price": "dear"}, "no price"),
    ],
)
def test_a_fault_is_told_and_what_was_typed_is_kept(cast: Cast, change: dict[str, str], says: str) -> None:
    answer = cast.browser("editor").post(URL, TYPED | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["form"]["pf_per_m"].value() == "98"
    assert not ReadyMade.objects.exists()


def test_an_unusual_length_is_kept_once_it_is_confirmed(cast: Cast) -> None:
    browser = cast.browser("editor")
    assert "lengths_are_right" not in browser.get(URL).text
    assert "lengths_are_right" in browser.post(URL, TYPED | {"length": "150 m"}).text
    browser.post(URL, TYPED | {"length": "150 m", "lengths_are_right": "on"})
    assert ReadyMade.objects.get().length == 150_000


def test_the_same_name_twice_is_refused(cast: Cast) -> None:
    browser = cast.browser("editor")
    browser.post(URL, TYPED)
    answer = browser.post(URL, TYPED | {"name": "FLAT PATCH 15"})
    assert answer.status_code == 422
    assert "already has" in answer.text


def test_the_list_of_another_shop_is_not_shown(cast: Cast) -> None:
    cast.browser("editor").post(URL, TYPED)
    lists = [
        cast.browser(who).get(reverse("gear"), {"kind": "ready-made"}).text for who in ("viewer", "stranger")
    ]
    assert ["Flat patch 15" in text for text in lists] == [True, False]


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, TYPED).status_code == 403


def test_add_ready_made_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405
