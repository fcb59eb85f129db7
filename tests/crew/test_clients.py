import pytest
from django.test import Client as Browser
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from tests.factories import Cast, make_client, make_person

pytestmark = pytest.mark.django_db
URL = reverse("clients")


def test_the_list_names_the_shops_own_clients_by_name(cast: Cast) -> None:
    make_client(cast.shop, name="Zora Vane")
    make_client(cast.shop, name="Ada Moor", contact="tour office", kind="customer")
    text = cast.browser("viewer").get(URL).text
    assert text.index("Ada Moor") < text.index("Zora Vane")
    assert "tour office" in text


def test_a_stranger_sees_none_of_them(cast: Cast) -> None:
    make_client(cast.shop, name="Zora Vane")
    assert "Zora Vane" not in cast.browser("stranger").get(URL).text


def test_who_has_no_shop_gets_404(client: Browser) -> None:
    client.force_login(make_person())
    assert client.get(URL).status_code == 404


def test_a_viewer_is_offered_no_change(cast: Cast) -> None:
    one = make_client(cast.shop)
    change = reverse("change-client", args=[one.pk])
    assert change not in cast.browser("viewer").get(URL).text
    assert change in cast.browser("editor").get(URL).text


def test_an_empty_list_says_what_to_do(cast: Cast) -> None:
    assert reverse("add-client") in cast.browser("editor").get(URL).text


@pytest.mark.parametrize("rows", [1, 18])
def test_the_queries_do_not_grow(
    cast: Cast, rows: int, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    for _ in range(rows):
        make_client(cast.shop)
    browser = cast.browser("editor")
    with django_assert_num_queries(7):
        browser.get(URL)


def test_clients_refuses_post(cast: Cast) -> None:
    assert cast.browser("editor").post(URL).status_code == 405
