import pytest
from django.urls import reverse

from boardshop.crew.models import Membership
from tests.crew.shops import audit_of, role_of
from tests.factories import Cast, make_person, make_shop

pytestmark = pytest.mark.django_db
URL = reverse("leave-shop")


def sent(cast: Cast) -> dict[str, int]:
    return {"shop": cast.shop.pk}


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_anybody_leaves_after_being_asked(cast: Cast, role: str) -> None:
    browser = cast.browser(role)
    assert "Leave" in browser.get(URL).text
    assert role_of(cast, role) == role
    assert browser.post(URL, sent(cast)).url == "/"
    assert role_of(cast, role) is None
    assert audit_of(cast.shop) == [("member-left", role)]


def test_who_left_the_only_shop_reads_the_two_ways_out(cast: Cast) -> None:
    browser = cast.browser("viewer")
    browser.post(URL, sent(cast))
    answer = browser.get("/")
    assert answer.status_code == 404
    assert "invitation link" in answer.text
    assert reverse("add-shop") in answer.text


def test_the_last_owner_cannot_leave_and_reads_the_way_out(cast: Cast) -> None:
    answer = cast.browser("owner").post(URL, sent(cast))
    assert answer.status_code == 409
    assert reverse("hand-over-shop") in answer.text
    assert role_of(cast, "owner") == "owner"


def test_the_last_owner_is_told_before_asking(cast: Cast) -> None:
    sheet = cast.browser("owner").get(URL).text.partition("<main")[2].partition("</main>")[0]
    assert "You are its only owner" in sheet
    assert "<form" not in sheet
    make_person(cast.shop, "owner")
    assert "<form" in cast.browser("owner").get(URL).text.partition("<main")[2].partition("</main>")[0]


@pytest.mark.parametrize("named", [{}, {"shop": "0"}, {"shop": "x"}])
def test_a_form_that_names_another_shop_leaves_none(cast: Cast, named: dict[str, str]) -> None:
    assert cast.browser("editor").post(URL, named).status_code == 422
    assert role_of(cast, "editor") == "editor"


def test_the_other_shop_is_the_one_in_use_then(cast: Cast) -> None:
    other = make_shop(name="Second bench")
    browser = cast.browser("editor")
    Membership.objects.create(shop=other, person=cast.editor, role="viewer")
    browser.post(URL, sent(cast))
    assert "Second bench" in browser.get("/", follow=True).text


def test_a_stranger_leaves_nothing_of_it(cast: Cast) -> None:
    assert cast.browser("stranger").post(URL, sent(cast)).status_code == 422


def test_leave_shop_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").put(URL).status_code == 405


def test_an_owner_whose_account_is_closed_does_not_count(cast: Cast) -> None:
    make_person(cast.shop, "owner", is_active=False)
    assert cast.browser("owner").post(URL, sent(cast)).status_code == 409
    assert role_of(cast, "owner") == "owner"
