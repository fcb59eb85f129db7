import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.factories import Cast, make_client, make_pedal_model, make_unit

pytestmark = pytest.mark.django_db


def url(model: object) -> str:
    return reverse("show-pedal-model", args=[model.pk])


def test_the_data_sheet_is_shown_and_unknown_says_so(cast: Cast) -> None:
    model = make_pedal_model(cast.shop, name="Ember", note="a\nb", jacks="IN:in", power="DC")
    text = cast.browser("viewer").get(url(model)).text
    assert "Ember" in text
    assert "not recorded" in text
    assert "read the label on the pedal itself" in text
    assert reverse("change-pedal-model", args=[model.pk]) not in text


def test_it_costs_the_same_with_many_jacks_and_units(cast: Cast) -> None:
    counts = []
    for times in (1, 6):
        model = make_pedal_model(cast.shop, jacks=" ".join(f"J{n}:in" for n in range(times)))
        for n in range(times):
            make_unit(cast.shop, pedal=model, serial=f"{times}-{n}", owner=make_client(cast.shop))
        browser = cast.browser("viewer")
        with CaptureQueriesContext(connection) as queries:
            browser.get(url(model))
        counts.append(len(queries))
    assert counts[0] == counts[1]


def test_an_editor_may_change_it(cast: Cast) -> None:
    model = make_pedal_model(cast.shop)
    assert reverse("change-pedal-model", args=[model.pk]) in cast.browser("editor").get(url(model)).text


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").get(url(make_pedal_model(cast.shop))).status_code == 404


def test_show_pedal_model_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(url(make_pedal_model(cast.shop))).status_code == 405
