"""The drawer as a table: rows are found again by what they are, and a blank count is one."""

import pytest

from boardshop.gear.models import DrawerItem, SupplyModel
from boardshop.gear.shelves import supply_record
from tests.factories import Cast, make_drawer_item, make_supply_model
from tests.gear.forms import apply, dry_run, verdicts
from tests.gear.test_import_gear import problems

pytestmark = pytest.mark.django_db


def test_a_list_as_people_write_it_comes_in(cast: Cast) -> None:
    browser = cast.browser("editor")
    table = (
        "Item;Length cm;Gauge;Plug;Qty;Notes\n"
        "DC lead;60;20 AWG;2.1mm barrel;3;top\n"
        "Polarity reverser;;;;2;\n"
        "current doubler;;;;;\n"
    )
    answer = dry_run(browser, "drawer", table)
    assert verdicts(answer) == ["new", "new", "new"]
    apply(browser, "drawer", answer)
    assert [(str(item), item.count) for item in DrawerItem.objects.all()] == [
        ("lead, 600 mm, AWG 20, barrel 5.5/2.1", 3),
        ("parallel", 1),
        ("reverser", 2),
    ]


def test_a_row_of_the_same_sort_changes_how_many_there_are(cast: Cast) -> None:
    make_drawer_item(cast.shop, kind="reverser", count=1)
    browser = cast.browser("editor")
    answer = dry_run(browser, "drawer", "kind,count\nreverser,4\n")
    assert verdicts(answer) == ["changed"]
    apply(browser, "drawer", answer)
    assert DrawerItem.objects.get().count == 4


@pytest.mark.parametrize(
    ("cells", "says"),
    [
        ("doubler,,,", "is not on the list: lead, reverser, converter, parallel, series"),
        (",600,,", "needed, but blank"),
        ("lead,600,57,", "write AWG 0 to 56"),
        ("lead,600,,0", "write mm² above zero"),
        ("lead,0,,", "above zero"),
    ],
)
def test_a_cell_that_cannot_be_taken_is_named(cast: Cast, cells: str, says: str) -> None:
    answer = dry_run(cast.browser("editor"), "drawer", f"kind,length mm,AWG,area mm2\n{cells}\n")
    assert says in str(problems(answer))
    assert verdicts(answer) == ["refused"]


def test_wire_that_cannot_be_both_is_refused_with_its_row(cast: Cast) -> None:
    answer = dry_run(cast.browser("editor"), "drawer", "kind,AWG,area mm2\nlead,20,2.5\n")
    assert verdicts(answer) == ["refused"]
    assert "AWG 20 has 0.518 mm², not 2.5" in answer.text


def test_leads_that_come_with_a_supply_come_in_one_cell(cast: Cast) -> None:
    make_supply_model(cast.shop, name="Eight")
    browser = cast.browser("editor")
    cell = "4 x 45 cm AWG 22 barrel 5.5/2.1; 2x 900mm 0,5 mm2"
    answer = dry_run(browser, "supplies", f'name;leads included;price\nEight;"{cell}";139,50\n')
    apply(browser, "supplies", answer)
    record = supply_record(SupplyModel.objects.get())
    assert [(lead.count, lead.length, lead.awg, lead.mm2, lead.connector) for lead in record.leads] == [
        (4, 450, 22, None, "barrel 5.5/2.1"),
        (2, 900, None, 0.5, None),
    ]
    assert str(record.price) == "139.5"
