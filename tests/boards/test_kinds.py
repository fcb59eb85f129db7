from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.core.kinds.notes import KIND_NOTES
from boardshop.core.vocabulary import KINDS
from tests.factories import Cast, make_person
from tests.house.markup import elements

pytestmark = pytest.mark.django_db
URL = reverse("kinds")


def links(text: str) -> list[str]:
    hrefs = [element.attributes.get("href", "") for element in elements(text) if element.tag == "a"]
    return [href for href in hrefs if href.startswith(URL)]


def test_every_kind_leads_to_its_page(cast: Cast) -> None:
    found = links(cast.browser("viewer").get(URL).text)
    assert sorted(found) == sorted(reverse("explain-kind", args=[kind]) for kind in KINDS)


def test_each_says_in_one_line_what_it_does(cast: Cast) -> None:
    rows = cast.browser("viewer").get(URL).context["rows"]
    assert [summary for _kind, summary in rows] == [KIND_NOTES[kind.kind].summary for kind, _summary in rows]


def test_they_stand_in_the_common_order(cast: Cast) -> None:
    found = links(cast.browser("viewer").get(URL).text)
    assert found[0] == "/kinds/wireless-receiver"
    assert found.index("/kinds/fuzz") < found.index("/kinds/wah") < found.index("/kinds/di")
    assert found[-1] == "/kinds/other"


def test_a_visitor_signs_in_and_comes_back(client: Browser) -> None:
    assert client.get(URL).url == f"{reverse('sign-in')}?next={URL}"


def test_a_person_without_a_shop_gets_404(client: Browser) -> None:
    client.force_login(make_person())
    assert client.get(URL).status_code == 404


def test_it_only_reads(cast: Cast) -> None:
    assert cast.browser("owner").post(URL).status_code == 405


def test_it_asks_the_database_for_no_pedal(cast: Cast, django_assert_num_queries: Any) -> None:
    browser = cast.browser("viewer")
    with django_assert_num_queries(4):
        browser.get(URL)
