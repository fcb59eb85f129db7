import pytest
from django.urls import reverse

from tests.factories import Cast, make_supply_model

pytestmark = pytest.mark.django_db


def url(model: object) -> str:
    return reverse("show-supply-model", args=[model.pk])


def test_the_data_sheet_is_shown_and_unknown_says_so(cast: Cast) -> None:
    model = make_supply_model(cast.shop, name="Eight", outlets="1 2", limit_mw=36_500)
    model.outlets.get(name="1").settings.create(min_mv=9000, max_mv=12000, max_ma=300)
    text = cast.browser("viewer").get(url(model)).text
    assert "9 V – 12 V, 300 mA" in text
    assert "36.5 W" in text
    assert "not recorded" in text
    assert "people licensed for it" in text


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").get(url(make_supply_model(cast.shop))).status_code == 404


def test_show_supply_model_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(url(make_supply_model(cast.shop))).status_code == 405


def test_it_shows_the_leads_that_come_with_it_and_its_price(cast: Cast) -> None:
    model = make_supply_model(cast.shop, name="Eight", price="139.5")
    model.leads.create(length=450, awg=22, mm2="0.34", connector="snap", count=4)
    model.leads.create()
    text = " ".join(cast.browser("viewer").get(reverse("show-supply-model", args=[model.pk])).text.split())
    assert "139.50" in text
    assert "4 ×" in text
    assert "450 mm" in text
    assert "AWG 22, 0.34 mm²" in text
    assert ">not recorded<" in text[text.index("Leads that come with it") :].partition("</table>")[0]


def test_a_supply_without_leads_says_so(cast: Cast) -> None:
    model = make_supply_model(cast.shop, name="Eight")
    text = cast.browser("viewer").get(reverse("show-supply-model", args=[model.pk])).text
    assert "No lead is recorded." in text
