import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.crew.models import Client, Membership, Shop
from tests.crew.shops import mark_in, wary
from tests.factories import Cast, make_shop

pytestmark = pytest.mark.django_db
URL = reverse("use-shop")


@pytest.fixture
def other(cast: Cast) -> Shop:
    """A second shop of the cast's editor."""
    shop = make_shop(name="Second bench")
    Membership.objects.create(shop=shop, person=cast.editor, role="owner")
    return shop


def shop_of(browser: Browser) -> Shop:
    return browser.get(reverse("people")).context["shop"]


def test_the_other_shop_is_in_use_on_this_device_only(cast: Cast, other: Shop) -> None:
    here, there = cast.browser("editor"), cast.browser("editor")
    assert here.post(URL, {"shop": other.pk}).url == "/"
    assert (shop_of(here), shop_of(there)) == (other, cast.shop)


def test_the_masthead_says_which_and_offers_the_other(cast: Cast, other: Shop) -> None:
    text = cast.browser("editor").get("/").text.partition("<main")[0]
    assert f"{cast.shop}</summary>" in text
    assert "Work in Second bench" in text
    assert f"Work in {cast.shop}" not in text


def test_with_one_shop_there_is_nothing_to_switch(cast: Cast) -> None:
    assert "Work in" not in cast.browser("viewer").get("/").text


def test_a_form_of_the_former_shop_writes_nothing_into_this_one(cast: Cast, other: Shop) -> None:
    browser = wary(cast.browser("editor"))
    old = mark_in(browser.get(reverse("add-client")).text)
    browser.post(URL, {"shop": other.pk, "csrfmiddlewaretoken": old})
    typed = {"name": "Zora", "kind": "artist"}
    answer = browser.post(reverse("add-client"), typed | {"csrfmiddlewaretoken": old})
    assert answer.status_code == 403
    assert "another shop" in answer.text
    assert not Client.objects.exists()
    new = mark_in(browser.get(reverse("add-client")).text)
    browser.post(reverse("add-client"), typed | {"csrfmiddlewaretoken": new})
    assert Client.objects.get().shop == other


def test_a_shop_that_is_gone_gives_way_to_the_first(cast: Cast, other: Shop) -> None:
    browser = cast.browser("editor")
    browser.post(URL, {"shop": other.pk})
    other.delete()
    assert browser.get("/", follow=True).status_code == 200
    assert shop_of(browser) == cast.shop


def test_what_falls_back_is_asked_for_again_with_a_new_mark(cast: Cast, other: Shop) -> None:
    browser = wary(cast.browser("editor"))
    old = mark_in(browser.get(reverse("add-client")).text)
    Membership.objects.get(shop=cast.shop, person=cast.editor).delete()
    assert browser.get(reverse("add-client")).url == reverse("add-client")
    typed = {"name": "Zora", "kind": "artist"}
    assert browser.post(reverse("add-client"), typed | {"csrfmiddlewaretoken": old}).status_code == 403
    new = mark_in(browser.get(reverse("add-client")).text)
    assert browser.post(reverse("add-client"), typed | {"csrfmiddlewaretoken": new}).status_code == 302
    assert Client.objects.get().shop == other


@pytest.mark.parametrize("which", ["", "x", "-1", "0", "\u0662", "9" * 30])
def test_what_is_no_shop_is_not_found(cast: Cast, which: str) -> None:
    assert cast.browser("editor").post(URL, {"shop": which}).status_code == 404


def test_a_stranger_cannot_use_it(cast: Cast) -> None:
    browser = cast.browser("stranger")
    assert browser.post(URL, {"shop": cast.shop.pk}).status_code == 404
    assert shop_of(browser) != cast.shop


def test_a_session_that_names_a_foreign_shop_opens_nothing(cast: Cast) -> None:
    browser = cast.browser("stranger")
    session = browser.session
    session["shop_in_use"] = cast.shop.pk
    session.save()
    assert browser.get(reverse("people"), follow=True).context["shop"] != cast.shop


def test_use_shop_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").get(URL).status_code == 405
