from decimal import Decimal

import pytest
from django.urls import reverse

from boardshop.gear.models import DrawerItem
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("add-drawer-item")
TYPED = {
    "kind": "lead",
    "length": "60 cm",
    "awg": "AWG 20",
    "mm2": "0,5 mm2",
    "connector": "barrel 5.5/2.1",
    "count": "3",
    "note": "top left",
}


def test_a_lead_is_kept(cast: Cast) -> None:
    assert cast.browser("editor").post(URL, TYPED).url == reverse("gear") + "?kind=drawer"
    item = DrawerItem.objects.get()
    assert (item.kind, item.length, item.awg, item.mm2) == ("lead", 600, 20, Decimal("0.5"))
    assert (item.connector, item.count, item.note) == ("barrel 5.5/2.1", 3, "top left")


def test_of_an_adapter_no_more_than_its_kind_and_number_need_be_known(cast: Cast) -> None:
    cast.browser("editor").post(URL, {"kind": "reverser", "count": "2"})
    assert str(DrawerItem.objects.get()) == "reverser"


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"kind": ""}, "is needed"),
        ({"kind": "doubler"}, "doubler"),
        ({"count": "0"}, "At least one"),
        ({"count": ""}, "is needed"),
        ({"length": "0"}, "A size must be above zero"),
        ({"awg": "thin"}, "write AWG 0 to 56"),
        ({"mm2": "0"}, "write mm² above zero"),
        ({"mm2": "2.5"}, "AWG 20 has 0.518 mm², not 2.5"),
    ],
)
def test_a_fault_is_told_and_what_was_typed_is_kept(cast: Cast, change: dict[str, str], says: str) -> None:
    answer = cast.browser("editor").post(URL, TYPED | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["form"]["note"].value() == "top left"
    assert not DrawerItem.objects.exists()


def test_the_same_sort_twice_is_one_entry_or_told_apart_by_a_note(cast: Cast) -> None:
    browser = cast.browser("editor")
    browser.post(URL, TYPED)
    answer = browser.post(URL, TYPED | {"count": "1"})
    assert answer.status_code == 422
    assert "change how many there are, or tell the two apart by a note" in answer.text
    browser.post(URL, TYPED | {"note": "in the van"})
    assert DrawerItem.objects.count() == 2


def test_the_drawer_of_another_shop_is_not_shown(cast: Cast) -> None:
    cast.browser("editor").post(URL, TYPED)
    lists = [
        cast.browser(who).get(reverse("gear"), {"kind": "drawer"}).text for who in ("viewer", "stranger")
    ]
    assert ["top left" in text for text in lists] == [True, False]


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, TYPED).status_code == 403


def test_add_drawer_item_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405
