import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.crew.models import Membership, Shop
from tests.crew.shops import mark_in, wary
from tests.factories import Cast, make_person

pytestmark = pytest.mark.django_db
URL = reverse("add-shop")


@pytest.mark.parametrize("role", ["owner", "viewer", "stranger"])
def test_anybody_signed_in_starts_one_and_works_in_it(cast: Cast, role: str) -> None:
    browser = cast.browser(role)
    assert browser.post(URL, {"shop_name": "Second bench"}).url == "/"
    made = Shop.objects.get(name="Second bench")
    assert Membership.objects.get(shop=made).role == "owner"
    assert browser.get(reverse("people")).context["shop"] == made


def test_who_has_none_starts_the_first(client: Browser) -> None:
    client.force_login(make_person())
    assert client.get(URL).status_code == 200
    client.post(URL, {"shop_name": "First bench"})
    assert client.get("/").status_code == 200


@pytest.mark.parametrize("name", ["", " ", "a" * 81, "\u202eab"])
def test_an_invalid_name_makes_none(cast: Cast, name: str) -> None:
    before = Shop.objects.count()
    assert cast.browser("owner").post(URL, {"shop_name": name}).status_code == 422
    assert Shop.objects.count() == before


def test_forms_of_the_former_shop_are_refused(cast: Cast) -> None:
    browser = wary(cast.browser("owner"))
    mark = mark_in(browser.get(URL).text)
    browser.post(URL, {"shop_name": "Second bench", "csrfmiddlewaretoken": mark})
    typed = {"name": "Zora", "kind": "artist", "csrfmiddlewaretoken": mark}
    assert browser.post(reverse("add-client"), typed).status_code == 403


def test_who_is_signed_out_is_sent_to_sign_in(client: Browser) -> None:
    assert client.get(URL).url.startswith(reverse("sign-in"))


def test_add_shop_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("owner").put(URL).status_code == 405


def test_a_form_that_is_sent_twice_starts_one_shop(cast: Cast) -> None:
    browser = cast.browser("owner")
    for _ in range(2):
        answer = browser.post(URL, {"shop_name": "Second bench", "once": "a-token"})
        assert (answer.status_code, answer.url) == (302, "/")
    assert Shop.objects.filter(name="Second bench").count() == 1
