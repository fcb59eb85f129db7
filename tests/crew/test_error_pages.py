"""Every error page stands in the look and names the way out."""

import pytest
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest
from django.template.loader import render_to_string
from django.test import Client as Browser
from django.views.defaults import permission_denied, server_error

from boardshop.crew.models import Client
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def test_not_found_leads_to_the_boards(cast: Cast) -> None:
    answer = cast.browser("viewer").get("/no-such-page")
    assert answer.status_code == 404
    assert "There is nothing here" in answer.text
    assert 'href="/"' in answer.text


def test_refused_says_why(rf, cast: Cast) -> None:
    request: HttpRequest = rf.get("/")
    request.user = cast.viewer
    answer = permission_denied(request, PermissionDenied("Ask Mara."))
    assert answer.status_code == 403
    assert "Ask Mara." in answer.content.decode()


def test_a_crash_has_a_page_that_needs_neither_database_nor_request(rf) -> None:
    answer = server_error(rf.get("/"))
    assert answer.status_code == 500
    assert "Something broke" in answer.content.decode()


def test_a_form_without_its_mark_is_explained() -> None:
    answer = Browser(enforce_csrf_checks=True).post("/sign-in", {})
    assert answer.status_code == 403
    assert "mark that ties it to your browser" in answer.text


def test_a_conflict_leads_back_to_how_things_stand() -> None:
    assert 'href="/clients"' in render_to_string("409.html", {"back": "/clients"})


def test_an_address_that_only_takes_forms_says_where_to_go_instead(cast: Cast) -> None:
    browser = cast.browser("editor")
    answer = browser.get("/boards/ABCDE/undo")
    assert (answer.status_code, answer["Allow"]) == (405, "POST")
    assert 'href="/boards/ABCDE"' in answer.text
    assert 'href="/"' in browser.get("/people/invite").text


def test_signing_in_where_another_tab_did_already_leads_on(cast: Cast) -> None:
    browser = Browser(enforce_csrf_checks=True)
    browser.force_login(cast.viewer)
    assert browser.post("/sign-in", {"next": "/clients"}).url == "/clients"
    assert browser.post("/sign-in", {"next": "//elsewhere.example"}).url == "/"
    assert browser.post("/clients/add", {"next": "/clients"}).status_code == 403


def test_a_form_of_another_tab_shows_what_was_typed_but_no_secret(cast: Cast) -> None:
    browser = Browser(enforce_csrf_checks=True, headers={"sec-fetch-site": "same-origin"})
    browser.force_login(cast.editor)
    typed = {"name": "Nils & Co", "note": "two\nlines", "password": "hidden-one", "once": "abc"}
    page = browser.post("/clients/add", typed)
    assert page.status_code == 403
    assert "Nils &amp; Co" in page.text
    assert "two<br>lines" in page.text
    assert "hidden-one" not in page.text
    assert not Client.objects.filter(name="Nils & Co").exists()


@pytest.mark.parametrize("site", ["cross-site", "same-site", "none", ""])
def test_what_another_site_sends_is_not_shown(cast: Cast, site: str) -> None:
    browser = Browser(enforce_csrf_checks=True, headers={"sec-fetch-site": site} if site else {})
    browser.force_login(cast.editor)
    assert "pay here" not in browser.post("/clients/add", {"name": "pay here"}).text
