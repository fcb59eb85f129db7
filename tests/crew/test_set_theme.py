import pytest
from django.test import Client as Browser
from django.urls import reverse

pytestmark = pytest.mark.django_db
URL = reverse("set-theme")


@pytest.mark.parametrize("theme", ["auto", "light", "dark", "night"])
def test_the_theme_is_kept_and_the_page_is_drawn_in_it(client: Browser, theme: str) -> None:
    answer = client.post(URL, {"theme": theme, "next": "/sign-in"})
    assert answer.url == "/sign-in"
    assert f'data-theme="{theme}"' in client.get("/sign-in").text


def test_the_cookie_lasts_and_no_script_or_other_site_needs_it(client: Browser) -> None:
    cookie = client.post(URL, {"theme": "dark"}).cookies["theme"]
    assert cookie["max-age"] == 31_536_000
    assert cookie["httponly"]
    assert cookie["samesite"] == "Lax"


@pytest.mark.parametrize("target", ["https://elsewhere.example/", "//elsewhere.example"])
def test_it_never_leads_to_another_server(client: Browser, target: str) -> None:
    assert client.post(URL, {"theme": "dark", "next": target}).url == "/"


def test_without_a_next_it_goes_back_to_the_page_before(client: Browser) -> None:
    answer = client.post(URL, {"theme": "dark"}, headers={"referer": "http://testserver/clients"})
    assert answer.url == "http://testserver/clients"


def test_an_unknown_theme_is_refused_and_not_kept(client: Browser) -> None:
    answer = client.post(URL, {"theme": "neon"})
    assert answer.status_code == 400
    assert "theme" not in answer.cookies


def test_an_unknown_cookie_counts_as_none(client: Browser) -> None:
    client.cookies["theme"] = '"><script>'
    assert 'data-theme="auto"' in client.get("/sign-in").text


def test_set_theme_refuses_get(client: Browser) -> None:
    assert client.get(URL).status_code == 405
