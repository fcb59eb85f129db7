"""Signed out: pages lead to the sign-in page and back, fragments never turn into it."""

from typing import Any

import pytest
from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest, HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from boardshop.crew.errors import Refusal
from boardshop.crew.middleware import RefusalMiddleware

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


class Taken(Refusal):
    """%(thing)s was taken by somebody else; look again."""


def refused(request: HttpRequest) -> HttpResponse:
    raise Taken(thing="<b>P7</b>")


@pytest.fixture
def refusing(rf: Any) -> Any:
    """A request for a page whose service refuses, answered by the middleware alone."""

    def answer(**headers: str) -> HttpResponse:
        request = rf.post("/x", headers={"referer": "http://testserver/clients", **headers})
        request.user = AnonymousUser()
        try:
            return refused(request)
        except Taken as refusal:
            return RefusalMiddleware(refused).process_exception(request, refusal)

    return answer


def test_a_refusal_that_no_form_took_is_a_page_with_the_way_back(refusing: Any) -> None:
    answer = refusing()
    assert answer.status_code == 409
    assert "&lt;b&gt;P7&lt;/b&gt; was taken by somebody else" in answer.content.decode()
    assert 'href="/clients"' in answer.content.decode()


def test_a_refusal_in_a_fragment_becomes_a_notice(refusing: Any) -> None:
    answer = refusing(**{"HX-Request": "true"})
    assert (answer.status_code, answer["HX-Retarget"]) == (409, "#notices")
    assert "<html" not in answer.content.decode()


def test_other_errors_are_left_alone(rf: Any) -> None:
    assert RefusalMiddleware(refused).process_exception(rf.get("/x"), ValueError()) is None
