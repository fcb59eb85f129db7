from decimal import Decimal

import pytest
from django.urls import reverse

from boardshop.core import plan as core
from boardshop.gear.models import SupplyModel
from boardshop.gear.shelves import supply_record
from tests.factories import Cast, make_supply_model
from tests.gear.forms import supply

pytestmark = pytest.mark.django_db
URL = reverse("add-supply-model")


def test_a_whole_data_sheet_is_kept(cast: Cast) -> None:
    outlets = [
        {
            "name": "1",
            "settings": "9 V 500 mA; 18 V 250 mA",
            "current": "dc",
            "group": "A",
            "group_max_ma": "1 A",
        },
        {"name": "2", "settings": "9-12 V 300 mA", "regulated": "yes"},
    ]
    typed = supply(
        maker="Norr",
        limit_mw="36,5",
        mains_min_mv="100",
        mains_max_mv="240 V",
        mains_hz=["50", "60"],
        outlets=outlets,
    )
    answer = cast.browser("editor").post(URL, typed)
    model = SupplyModel.objects.get()
    assert answer.url == reverse("show-supply-model", args=[model.pk])
    record = supply_record(model)
    assert (record.limit_mw, record.mains_min_mv, record.mains_max_mv) == (36_500, 100_000, 240_000)
    assert record.mains_hz == (50, 60)
    settings = (core.OutletSetting(9000, 9000, 500), core.OutletSetting(18000, 18000, 250))
    assert record.outlets[0] == core.Outlet("1", "dc", settings, group="A", group_max_ma=1000)
    assert record.outlets[1] == core.Outlet(
        "2", settings=(core.OutletSetting(9000, 12000, 300),), regulated=True
    )


def test_leads_that_come_with_it_and_its_price_are_kept(cast: Cast) -> None:
    leads = [
        {"length": "45 cm", "awg": "22", "mm2": "0,34", "connector": "barrel 5.5/2.1", "count": "4"},
        {"length": "900"},
        {"length": ""},
        {"count": "1"},
    ]
    cast.browser("editor").post(URL, supply(price="139,50", leads=leads))
    record = supply_record(SupplyModel.objects.get())
    assert record.price == Decimal("139.5")
    assert record.leads == (
        core.SupplyLead(450, 22, 0.34, "barrel 5.5/2.1", 4),
        core.SupplyLead(900),
        core.SupplyLead(),
    )


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"leads-0-length": "long"}, "“long” is no length"),
        ({"leads-0-length": "0"}, "A size must be above zero"),
        ({"leads-0-awg": "57"}, "write AWG 0 to 56"),
        ({"leads-0-mm2": "0"}, "write mm² above zero"),
        ({"leads-0-awg": "22", "leads-0-mm2": "0.5"}, "AWG 22 has 0.326 mm², not 0.5"),
        ({"leads-0-count": "0"}, "At least one"),
        ({"leads-0-connector": "banana"}, "banana"),
        ({"price": "-1"}, "is no price"),
        ({"leads-TOTAL_FORMS": "x"}, "came back incomplete"),
    ],
)
def test_a_fault_in_a_lead_is_told_beside_it(cast: Cast, change: dict[str, object], says: str) -> None:
    typed = supply(leads=[{"length": "450"}], note="kept") | change
    answer = cast.browser("editor").post(URL, typed)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["sheet"].form["note"].value() == "kept"
    assert not SupplyModel.objects.exists()


def test_one_more_sort_of_lead_needs_no_script(cast: Cast) -> None:
    typed = supply(leads=[{"length": "short"}]) | {"add_row": "leads"}
    rows = cast.browser("editor").post(URL, typed).context["sheet"].rows["leads"]
    assert [row["length"].value() for row in rows] == ["short", None]


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"name": ""}, "is needed"),
        ({"outlets-0-settings": "500 mA"}, "9 V 500 mA; 18 V 250 mA"),
        ({"outlets-0-settings": "12-9 V"}, "the lower one first"),
        ({"outlets-0-name": "a b"}, "without a point"),
        ({"mains_min_mv": "240", "mains_max_mv": "100"}, "swap the two"),
        ({"mains_hz": ["55"]}, "55"),
        ({"limit_mw": "lots"}, "18 W"),
    ],
)
def test_a_fault_is_told_and_what_was_typed_is_kept(cast: Cast, change: dict[str, object], says: str) -> None:
    answer = cast.browser("editor").post(URL, supply(maker="Norr", outlets=[{"name": "1"}]) | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["sheet"].form["maker"].value() == "Norr"
    assert not SupplyModel.objects.exists()


def test_a_name_that_is_taken_is_told(cast: Cast) -> None:
    make_supply_model(cast.shop, name="EIGHT")
    assert "already has" in cast.browser("editor").post(URL, supply()).text


def test_one_more_outlet_needs_no_script(cast: Cast) -> None:
    typed = supply(outlets=[{"name": "1", "settings": "nine"}]) | {"add_row": "outlets"}
    rows = cast.browser("editor").post(URL, typed).context["sheet"].rows["outlets"]
    assert [row["settings"].value() for row in rows] == ["nine", None]


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, supply()).status_code == 403


def test_a_strangers_supply_lands_in_their_own_shop(cast: Cast) -> None:
    cast.browser("stranger").post(URL, supply())
    assert SupplyModel.objects.get().shop != cast.shop


def test_add_supply_model_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405
