import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests.factories import Cast, make_person

pytestmark = pytest.mark.django_db
URL = reverse("shop-settings")
TYPED = {"name": "Bench Seven", "length_unit": "in", "currency": "usd", "paper": "Letter"}


def test_the_owner_changes_the_settings(cast: Cast) -> None:
    assert cast.browser("owner").post(URL, TYPED).url == URL
    cast.shop.refresh_from_db()
    assert (cast.shop.name, cast.shop.length_unit, cast.shop.currency, cast.shop.paper) == (
        "Bench Seven",
        "in",
        "USD",
        "Letter",
    )


def test_the_page_shows_what_is_kept(cast: Cast) -> None:
    assert f'value="{cast.shop.name}"' in cast.browser("owner").get(URL).text


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_only_an_owner_may(cast: Cast, role: str) -> None:
    answer = cast.browser(role).post(URL, TYPED)
    assert answer.status_code == 403
    assert "Only an owner" in answer.text
    cast.shop.refresh_from_db()
    assert cast.shop.currency == "EUR"


def test_a_stranger_changes_only_their_own_shop(cast: Cast) -> None:
    cast.browser("stranger").post(URL, TYPED)
    cast.shop.refresh_from_db()
    assert cast.shop.name != "Bench Seven"


def test_a_person_without_a_shop_gets_404(client: Browser) -> None:
    client.force_login(make_person())
    assert client.get(URL).status_code == 404


@pytest.mark.parametrize(
    "wrong", [{"currency": "€"}, {"currency": "EURO"}, {"length_unit": "yd"}, {"paper": "A9"}, {"name": ""}]
)
def test_invalid_settings_are_refused_beside_the_field(cast: Cast, wrong: dict[str, str]) -> None:
    answer = cast.browser("owner").post(URL, TYPED | wrong)
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == list(wrong)
    cast.shop.refresh_from_db()
    assert cast.shop.length_unit == "mm"


def test_shop_settings_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("owner").put(URL).status_code == 405


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_others_read_the_settings_that_the_masthead_leads_to(cast: Cast, role: str) -> None:
    browser = cast.browser(role)
    assert f'href="{URL}"' in browser.get(reverse("boards")).text
    answer = browser.get(URL)
    assert answer.status_code == 200
    assert "millimetres" in answer.text
    assert "Only an owner of" in answer.text
    assert 'action="/shop-settings"' not in answer.text


def test_what_another_owner_changed_meanwhile_is_told_and_nothing_typed_is_lost(cast: Cast) -> None:
    browser = cast.browser("owner")
    seen = browser.get(URL).context["form"]["seen"].value()
    type(cast.shop).objects.filter(pk=cast.shop.pk).update(currency="GBP")
    answer = browser.post(URL, TYPED | {"seen": seen})
    assert answer.status_code == 409
    assert "now different from yours: name, length unit, currency, paper" in answer.text
    assert 'value="Bench Seven"' in answer.text
    cast.shop.refresh_from_db()
    assert cast.shop.currency == "GBP"
    again = TYPED | {"seen": answer.context["form"]["seen"].value()}
    assert browser.post(URL, again).status_code == 302
