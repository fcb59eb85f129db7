import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from boardshop.gear.kinds import KINDS
from tests.factories import (
    Cast,
    make_cable_type,
    make_client,
    make_drawer_item,
    make_frame_model,
    make_pedal_model,
    make_plug_type,
    make_ready_made,
    make_stock,
    make_supply_model,
    make_unit,
)

pytestmark = pytest.mark.django_db
URL = reverse("gear")
SLUGS = [kind.slug for kind in KINDS]


def fill(cast: Cast, times: int) -> None:
    """So many of every kind, each with all that its list shows."""
    for _ in range(times):
        unit = make_unit(cast.shop, serial=str(times), owner=make_client(cast.shop))
        unit.draws.create(measured=12)
        make_unit(cast.shop, supply=make_supply_model(cast.shop, outlets="1 2"))
        make_pedal_model(cast.shop, power="DC AUX")
        make_frame_model(cast.shop)
        make_plug_type(cast.shop)
        make_ready_made(cast.shop)
        make_drawer_item(cast.shop)
        make_stock(cast.shop, cable=make_cable_type(cast.shop))


def shown(cast: Cast, role: str = "viewer", **query: str) -> str:
    answer = cast.browser(role).get(URL, query)
    assert answer.status_code == 200
    return answer.text


@pytest.mark.parametrize("slug", SLUGS)
def test_each_list_shows_its_rows(cast: Cast, slug: str) -> None:
    fill(cast, 1)
    assert f"gear/rows_of_{slug}.html" in [
        t.name for t in cast.browser("viewer").get(URL, {"kind": slug}).templates
    ]


@pytest.mark.parametrize("slug", SLUGS)
def test_a_list_costs_the_same_with_many_rows(cast: Cast, slug: str) -> None:
    browser = cast.browser("viewer")
    counts = []
    for times in (1, 7):
        fill(cast, times)
        with CaptureQueriesContext(connection) as queries:
            browser.get(URL, {"kind": slug})
        counts.append(len(queries))
    assert counts[0] == counts[1]
    assert counts[0] <= 17


def test_every_word_of_a_search_must_be_found(cast: Cast) -> None:
    make_pedal_model(cast.shop, maker="Kestrel", name="Ember")
    make_pedal_model(cast.shop, maker="Kestrel", name="Slate")
    text = shown(cast, find="kestrel EMB")
    assert "Kestrel Ember" in text
    assert "Kestrel Slate" not in text


def test_units_are_found_by_owner_serial_and_model(cast: Cast) -> None:
    pedal = make_pedal_model(cast.shop, name="Ember")
    make_unit(cast.shop, pedal=pedal, serial="KE-0042", owner=make_client(cast.shop, name="Zora"))
    assert "KE-0042" in shown(cast, kind="units", find="zora 0042 ember")


def test_a_search_that_finds_nothing_offers_the_whole_list(cast: Cast) -> None:
    make_pedal_model(cast.shop)
    assert "Nothing in this list matches" in shown(cast, find="nowhere")


def test_what_nobody_recorded_says_so(cast: Cast) -> None:
    make_pedal_model(cast.shop, power="DC")
    assert "not recorded" in shown(cast)


def test_lengths_are_in_the_shops_unit(cast: Cast) -> None:
    cast.shop.length_unit = "in"
    cast.shop.save()
    make_pedal_model(cast.shop, width=120)
    assert "4.72 in" in shown(cast)


def test_a_stranger_sees_nothing_of_another_shop(cast: Cast) -> None:
    make_pedal_model(cast.shop, name="Secret")
    assert "Secret" not in shown(cast, "stranger")


def test_a_viewer_is_offered_no_change(cast: Cast) -> None:
    make_pedal_model(cast.shop)
    assert reverse("add-pedal-model") not in shown(cast)
    assert reverse("add-pedal-model") in shown(cast, "editor")


def test_for_htmx_only_the_lists_are_sent(cast: Cast) -> None:
    answer = cast.browser("viewer").get(URL, {"find": ""}, headers={"HX-Request": "true"})
    assert answer.text.lstrip().startswith('<div id="lists">')
    assert "HX-Request" in answer["Vary"]


@pytest.mark.parametrize("query", [{"kind": "toasters"}, {"find": "x" * 101}, {"page": "zero"}])
def test_nonsense_shows_a_whole_list(cast: Cast, query: dict[str, str]) -> None:
    make_pedal_model(cast.shop, name="Ember")
    assert "Ember" in shown(cast, **query)


def test_gear_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(URL).status_code == 405
