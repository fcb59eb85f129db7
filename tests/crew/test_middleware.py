"""Signed out: pages lead to the sign-in page and back, fragments never turn into it."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

pytestmark = pytest.mark.django_db
SIGN_IN = reverse("sign-in")


def test_a_page_leads_to_sign_in_and_back(client: Browser) -> None:
    answer = client.get("/clients?find=x")
    assert (answer.status_code, answer.url) == (302, f"{SIGN_IN}?next=/clients%3Ffind%3Dx")


def test_a_fragment_makes_the_whole_page_go_to_sign_in(client: Browser) -> None:
    answer = client.post(
        "/clients/add",
        headers={"HX-Request": "true", "HX-Current-URL": "http://testserver/clients?page=2"},
    )
    assert (answer.status_code, answer.content) == (204, b"")
    assert answer["HX-Redirect"] == f"{SIGN_IN}?next=/clients%3Fpage%3D2"


def test_a_sent_form_comes_back_to_the_page_it_stood_on(client: Browser) -> None:
    answer = client.post("/clients/1/change", headers={"referer": "http://testserver/clients"})
    assert answer.url == f"{SIGN_IN}?next=/clients"


def test_a_foreign_page_is_no_way_back(client: Browser) -> None:
    answer = client.post("/clients/add", headers={"referer": "https://elsewhere.example/x"})
    assert answer.url == f"{SIGN_IN}?next=/"


def test_an_unknown_address_is_404_not_a_sign_in(client: Browser) -> None:
    assert client.get("/no-such-page").status_code == 404
