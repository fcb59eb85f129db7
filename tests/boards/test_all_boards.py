import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("all-boards")


def test_it_leads_to_the_list(cast: Cast) -> None:
    assert URL == "/boards/"
    assert cast.browser("viewer").get(URL).url == reverse("boards")


def test_without_its_last_slash_too(cast: Cast) -> None:
    answer = cast.browser("viewer").get("/boards", follow=True)
    assert (answer.status_code, answer.request["PATH_INFO"]) == (200, reverse("boards"))


def test_what_was_looked_for_comes_along(cast: Cast) -> None:
    assert cast.browser("viewer").get(URL, {"find": "low ember"}).url == "/?find=low+ember"


def test_a_visitor_signs_in_and_comes_back(client: Browser) -> None:
    assert client.get(URL).url == f"{reverse('sign-in')}?next={URL}"


def test_it_only_reads(cast: Cast) -> None:
    assert cast.browser("owner").post(URL).status_code == 405
