import pytest
from django.urls import reverse

from boardshop.gear.models import CableStock
from tests.factories import Cast, make_cable_type

pytestmark = pytest.mark.django_db
URL = reverse("add-stock")
TYPED = {"cable": "Low 60", "kind": "reel", "length": "10 m", "count": "1", "tag": "R1"}


@pytest.fixture(autouse=True)
def cable(cast: Cast) -> None:
    make_cable_type(cast.shop, name="Low 60")


def test_a_length_in_stock_is_kept(cast: Cast) -> None:
    assert cast.browser("editor").post(URL, TYPED).url == reverse("gear") + "?kind=stock"
    stock = CableStock.objects.get()
    assert (stock.cable.name, stock.length, stock.count, stock.tag) == ("Low 60", 10_000, 1, "R1")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"cable": "Nobody's"}, "Nobody"),
        ({"length": ""}, "is needed"),
        ({"count": "0"}, "At least one"),
        ({"count": "10001"}, "At most 10000 in one line"),
        ({"kind": "heap"}, "heap"),
    ],
)
def test_a_fault_is_told_and_what_was_typed_is_kept(cast: Cast, change: dict[str, str], says: str) -> None:
    answer = cast.browser("editor").post(URL, TYPED | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["form"]["tag"].value() == "R1"


def test_the_cables_of_another_shop_are_not_offered(cast: Cast) -> None:
    assert "Low 60" not in cast.browser("stranger").get(URL).text
    assert cast.browser("stranger").post(URL, TYPED).status_code == 422


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, TYPED).status_code == 403


def test_add_stock_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405


def test_more_than_a_kilometre_is_asked_about_and_kept_once_confirmed(cast: Cast) -> None:
    cable = make_cable_type(cast.shop)
    typed = {"cable": cable.name, "kind": "reel", "length": "1200 m", "count": "1", "tag": "R7"}
    answer = cast.browser("editor").post(URL, typed)
    assert answer.status_code == 422
    assert "1200000 mm is 1.2 km, longer than the 1 km that such a cable usually has" in answer.text
    assert answer.context["form"]["tag"].value() == "R7"
    cast.browser("editor").post(URL, typed | {"lengths_are_right": "on"})
    assert CableStock.objects.get().length == 1_200_000


def test_ten_thousand_are_taken(cast: Cast) -> None:
    cast.browser("editor").post(URL, TYPED | {"count": "10000"})
    assert CableStock.objects.get().count == 10_000


def test_without_a_cable_type_the_way_to_one_is_shown(cast: Cast) -> None:
    link = f'<a href="{reverse("add-cable-type")}">'
    assert [link in cast.browser(who).get(URL).text for who in ("editor", "stranger")] == [False, True]
