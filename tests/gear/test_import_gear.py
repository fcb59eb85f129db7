from pathlib import Path
from random import Random

import pytest
from django.conf import LazySettings
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from boardshop.core import plan as core
from boardshop.gear.csv_import.sheets import SHEETS
from boardshop.gear.kinds import KINDS, PEDALS
from boardshop.gear.models import CableType, PedalModel, SupplyModel, Unit
from boardshop.gear.shelves import pedal_record, supply_record
from tests.factories import Cast, make_cast, make_pedal_model, make_unit
from tests.gear.forms import apply, dry_run, table, verdicts

pytestmark = pytest.mark.django_db
FILES = Path(__file__).parent / "files"
URL = reverse("import-gear", args=["pedals"])
SMALL = "maker;name;kind;width;depth\nKestrel;Ember;fuzz;73;129\n"


def read(name: str) -> bytes:
    return (FILES / name).read_bytes()


def problems(answer: object) -> list[tuple[int, str, str]]:
    return [(row.line, *problem) for row in answer.context["plan"].rows for problem in row.problems]


def test_a_dry_run_shows_what_would_happen_and_stores_nothing(cast: Cast) -> None:
    answer = dry_run(cast.browser("editor"), "pedals", SMALL)
    assert answer.status_code == 200
    assert verdicts(answer) == ["new"]
    assert "nothing is stored yet" in answer.text
    assert not PedalModel.objects.exists()


def test_a_table_from_a_german_spreadsheet(cast: Cast) -> None:
    browser = cast.browser("editor")
    answer = dry_run(browser, "pedals", read("pedals_from_a_german_spreadsheet.csv"))
    assert answer.context["plan"].ignored == ("Hersteller-Nr",)
    assert [row.line for row in answer.context["plan"].rows] == [2, 3, 5]
    apply(browser, "pedals", answer)
    ember, slate, tide = (pedal_record(model) for model in PedalModel.objects.order_by("pk"))
    assert (ember.maker, ember.depth, ember.bypass, ember.weight) == ("Kestrel Élan", 129, "true", 310)
    assert ember.jacks == (core.Jack("IN", "in", "right", 60), core.Jack("OUT", "out", "left", 60))
    assert ember.power == (core.PowerJack("DC", None, 9000, polarity="centre-negative", rated=12),)
    # 4.7 in = 119.38 mm, 2.9 in = 73.66 mm (1 in = 25.4 mm exactly)
    assert (slate.maker, slate.kind, slate.width, slate.depth) == ("Kestrel Élan", "noise-gate", 119, 74)
    assert (slate.power[0].current, slate.power[0].nominal, slate.height) == ("dc", 9000, None)
    assert (tide.maker, tide.width, tide.note) == ("Ødegård", 120, "two lines\nof note")
    assert (tide.power[0].nominal, tide.power[0].min, tide.power[0].max) == (9000, None, 18000)
    assert tide.power[0].rated == 100


def test_a_table_in_inches_with_a_mark(cast: Cast) -> None:
    browser = cast.browser("editor")
    apply(browser, "pedals", dry_run(browser, "pedals", read("pedals_in_inches_with_a_mark.csv")))
    loop, roller, twin = (pedal_record(model) for model in PedalModel.objects.order_by("name"))
    assert (loop.width, loop.depth, loop.switches) == (119, 121, (core.Point(25, 25), core.Point(76, 25)))
    assert loop.power == (core.PowerJack("DC", nominal=9000, polarity="centre-negative", rated=180),)
    assert [jack.name for jack in twin.power] == ["DC1", "DC2"]
    assert (roller.width, roller.depth, roller.power) == (100, 250, ())


def test_supplies_with_tabs(cast: Cast) -> None:
    browser = cast.browser("editor")
    apply(browser, "supplies", dry_run(browser, "supplies", read("supplies_with_tabs.tsv")))
    record = supply_record(SupplyModel.objects.get())
    assert (record.protection_class, record.earthed, record.mains_hz) == ("II", False, (50, 60))
    assert record.outlets[1].settings == (
        core.OutletSetting(9000, 9000, 500),
        core.OutletSetting(18000, 18000, 250),
    )
    assert (record.outlets[2].group, record.outlets[2].group_max_ma) == ("A", 400)


def test_cables_with_a_told_separator_and_a_question(cast: Cast) -> None:
    browser = cast.browser("editor")
    answer = dry_run(browser, "cables", read("cables_told_separator.csv"))
    assert "900 pF/m is unusual" in answer.text
    assert "bring it in as it is: that keeps the value" in answer.text
    apply(browser, "cables", answer)
    assert list(CableType.objects.order_by("pk").values_list("pf_per_m", flat=True)) == [60, 98, None, 900]


@pytest.mark.parametrize(
    ("cell", "kept", "asked"),
    [
        ("30 pF/ft", 98, ""),  # 98.4 pF/m: 1 ft = 0.3048 m exactly
        ("12", 12, "Did you mean 12 pF per foot? That is 39.4 pF/m; write 12 pF/ft."),
        ("150 pF/ft", 492, "taken for one per foot? Then it is 150 pF/m."),
        ("20", 20, ""),
        ("400", 400, ""),
    ],
)
def test_a_capacitance_per_foot_is_converted_and_an_odd_one_asked_about(
    cast: Cast, cell: str, kept: int, asked: str
) -> None:
    browser = cast.browser("editor")
    answer = dry_run(browser, "cables", f"Name,Capacitance pF/m\nLow,{cell}\n")
    (row,) = answer.context["plan"].rows
    assert asked in " ".join(row.questions)
    assert bool(row.questions) == bool(asked)
    apply(browser, "cables", answer)
    assert CableType.objects.get().pf_per_m == kept


def test_units_name_their_model_and_add_their_owner(cast: Cast) -> None:
    make_pedal_model(cast.shop, maker="Kestrel", name="Ember", power="DC")
    browser = cast.browser("editor")
    file = "Make,Name,Serial No,Artist,Measured\nkestrel,EMBER,KE-1,Zora,98 mA\n"
    answer = dry_run(browser, "units", file)
    assert "adds an artist of that name" in answer.text
    apply(browser, "units", answer)
    unit = Unit.objects.get()
    assert (unit.pedal.name, unit.serial, unit.owner.name, unit.draws.get().measured) == (
        "Ember",
        "KE-1",
        "Zora",
        98,
    )


def test_a_row_that_is_there_shows_each_field_that_changes(cast: Cast) -> None:
    make_pedal_model(
        cast.shop, maker="Kestrel", name="Ember", kind="fuzz", width=70, depth=129, weight=310, power="DC"
    )
    answer = dry_run(
        cast.browser("editor"), "pedals", "make,MODEL,width mm,weight,volts\nkestrel,Ember,73,,9V\n"
    )
    (row,) = answer.context["plan"].rows
    changes = [(change.heading, change.old, change.new) for change in row.changes]
    assert changes == [
        ("maker", "Kestrel", "kestrel"),
        ("width mm", "70", "73"),
        ("weight g", "310", ""),
        ("volts V", "", "9"),
    ]


def test_a_column_that_is_not_there_leaves_what_is_recorded(cast: Cast) -> None:
    make_pedal_model(cast.shop, name="Ember", width=73, weight=310, note="old", jacks="IN:in", power="DC")
    answer = dry_run(cast.browser("editor"), "pedals", "name,width mm\nEmber,73\n")
    assert verdicts(answer) == ["unchanged"]
    assert "recorded already" in answer.text
    assert answer.context["form"] is None


@pytest.mark.parametrize(
    ("row", "column", "says"),
    [
        (";Ember;fuzz;wide;129", "width mm", "such as 120 mm, 12.5 cm, 4.75 in"),
        (";Ember;fuzz;0;129", "width mm", "above zero"),
        (";Ember;fuzz;;129", "width mm", "needed, but blank"),
        (";;fuzz;73;129", "name", "needed, but blank"),
        (";Ember;toaster;73;129", "kind", "not on the list: tuner, noise-gate"),
        (";Ember;fuzz;1,250;129", "width mm", "thousands or as decimals"),
        (f"{'x' * 81};Ember;fuzz;73;129", "maker", "longer than 80 signs"),
        (";Ember;fuzz;73;129;more", "", "More cells than"),
    ],
)
def test_a_refused_row_names_line_column_and_what_is_accepted(
    cast: Cast, row: str, column: str, says: str
) -> None:
    answer = dry_run(cast.browser("editor"), "pedals", SMALL.replace("Ember", "Slate") + row)
    assert verdicts(answer) == ["new", "refused"]
    ((line, heading, words),) = problems(answer)
    assert (line, heading) == (3, column)
    assert says in words
    assert answer.context["form"] is None


@pytest.mark.parametrize(
    ("file", "says"),
    [
        ("name,volts,mA\nE,nine,1", "9-18 V"),
        ("name,volts\nE,9000", "9000 mV"),
        ("name,current\nE,lots", "100 mA"),
        ("name,polarity\nE,sideways", "centre-negative, centre-positive"),
        ("name,inverts\nE,maybe", "neither yes nor no"),
        ("name,jacks\nE,IN in sideways", "after name and role come side"),
        ("name,volts,power jacks\nE,9,DC: 9V", "keep one of the two"),
        ("name,turns\nE,45", "0, 90, 180 and 270"),
        ("name,jacks,width mm\nE,IN in left 200,73", "measure the offset again"),
    ],
)
def test_faulty_cells_of_a_pedal_that_is_there(cast: Cast, file: str, says: str) -> None:
    make_pedal_model(cast.shop, name="E", power="DC")
    answer = dry_run(cast.browser("editor"), "pedals", file)
    assert verdicts(answer) == ["refused"]
    assert says in str(problems(answer))


def test_the_same_row_twice_is_refused_the_second_time(cast: Cast) -> None:
    answer = dry_run(cast.browser("editor"), "pedals", SMALL + "KESTREL;ember;fuzz;80;129\n")
    assert problems(answer) == [(3, "", "The same as line 2; keep one of the two.")]


def test_a_name_without_its_maker_that_fits_two_is_refused(cast: Cast) -> None:
    for maker in ("Kestrel", "Norr"):
        make_pedal_model(cast.shop, maker=maker, name="Ember")
    answer = dry_run(cast.browser("editor"), "pedals", "name,width mm\nEmber,80\n")
    assert "give the maker too" in str(problems(answer))


def test_units_without_serial_are_found_whole(cast: Cast) -> None:
    pedal = make_pedal_model(cast.shop, name="Ember")
    for _ in range(2):
        make_unit(cast.shop, pedal=pedal, location="trunk 3")
    file = "model,where it is\nEmber,trunk 3\nEmber,trunk 3\nEmber,trunk 3\nEmber,trunk 4\n"
    assert verdicts(dry_run(cast.browser("editor"), "units", file)) == [
        "unchanged",
        "unchanged",
        "new",
        "new",
    ]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "is empty"),
        (b"width;depth\n1;2\n", "one of them must be “name”"),
        (b"name;Model\nA;B\n", "stand twice"),
        (b"PK\x03\x04", "save it as CSV"),
    ],
)
def test_a_file_that_cannot_be_read_is_told_beside_the_field(cast: Cast, content: bytes, says: str) -> None:
    answer = dry_run(cast.browser("editor"), "pedals", content)
    assert answer.status_code == 422
    assert says in str(answer.context["form"].errors["file"])


def test_a_missing_file_is_asked_for(cast: Cast) -> None:
    answer = cast.browser("editor").post(URL, {})
    assert answer.status_code == 422
    assert "Choose the file first" in answer.text


def test_the_limit_is_stated_and_kept(cast: Cast, settings: LazySettings) -> None:
    settings.UPLOAD_LIMIT_BYTES = 1024 * 1024
    assert "up to 1 MB and 1000 rows" in cast.browser("editor").get(URL).text
    at, above = b"name\n" + b"\n" * (1024 * 1024 - 5), b"name\n" + b"\n" * (1024 * 1024 - 4)
    assert cast.browser("editor").post(URL, table(at)).status_code == 200
    answer = cast.browser("editor").post(URL, table(above))
    assert answer.status_code == 422
    assert "larger than 1 MB, which is the most" in answer.text


def test_a_table_at_the_limit_comes_back_from_its_dry_run_whatever_it_holds(
    cast: Cast, settings: LazySettings
) -> None:
    """Random letters, which no compression shortens by much, are the worst case."""
    settings.UPLOAD_LIMIT_BYTES, settings.DATA_UPLOAD_MAX_MEMORY_SIZE = 100_000, 200_000
    signs = "".join(chr(code) for code in range(0x100, 0x2000) if chr(code).isalpha())
    rows = ["name;kind;width;depth;note"]
    rows += [f"N{n};fuzz;73;129;{''.join(Random(n).choices(signs, k=1500))}" for n in range(40)]
    content = "\n".join(rows).encode()[:100_000].decode(errors="ignore")
    answer = dry_run(cast.browser("editor"), "pedals", content)
    assert apply(cast.browser("editor"), "pedals", answer).status_code == 302
    assert PedalModel.objects.count() > 20


@pytest.mark.parametrize("kind", [kind.slug for kind in KINDS])
def test_the_columns_of_each_kind_stand_on_its_page(cast: Cast, kind: str) -> None:
    answer = cast.browser("editor").get(reverse("import-gear", args=[kind]))
    sheet = next(sheet for sheet in SHEETS if sheet.kind.slug == kind)
    assert all(column.heading in answer.text for column in sheet.columns)


def test_every_field_of_a_record_has_a_column() -> None:
    for sheet in SHEETS:
        fields = set(sheet.record.__dataclass_fields__)
        assert {column.name.partition(".")[0] for column in sheet.columns} == fields


def test_the_dry_run_of_many_rows_costs_no_query_for_an_unchanged_one(cast: Cast) -> None:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    browser = cast.browser("editor")
    counts = []
    for times in (1, 20):
        for _ in range(times):
            make_pedal_model(cast.shop, maker="Halden", power="DC")
        file = browser.get(reverse("export-gear", args=["pedals"])).content
        with CaptureQueriesContext(connection) as queries:
            assert set(verdicts(dry_run(browser, "pedals", file))) == {"unchanged"}
        counts.append(len(queries))
    assert counts[0] == counts[1]


def test_a_kind_that_is_none_is_not_found(cast: Cast) -> None:
    assert cast.browser("editor").get(reverse("import-gear", args=["toasters"])).status_code == 404


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").get(URL).status_code == 403
    assert dry_run(cast.browser("viewer"), "pedals", SMALL).status_code == 403


def test_a_strangers_table_is_held_against_their_own_shop(cast: Cast) -> None:
    make_pedal_model(cast.shop, maker="Kestrel", name="Ember")
    assert verdicts(dry_run(cast.browser("stranger"), "pedals", SMALL)) == ["new"]


def test_import_gear_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").put(URL).status_code == 405


HEADINGS = sorted({column.heading for sheet in SHEETS for column in sheet.columns})
CELL = st.sampled_from(
    ["", "9V", "4 3/4 in", "100mA", "yes", "C-", "IN in right 60", "=1+1", "-", "1: 9V 5mA", "Ember"]
)
ROW = st.lists(CELL | st.text(max_size=12), max_size=8).map(";".join)
LIKELY = st.tuples(st.lists(st.sampled_from(HEADINGS), max_size=8).map(";".join), st.lists(ROW, max_size=4))


class TestAnyUpload(TestCase):
    """Each example in a transaction of its own, so that rows do not leak from one to the next."""

    @settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
    @given(
        st.sampled_from([kind.slug for kind in KINDS]),
        st.binary(max_size=200)
        | st.tuples(LIKELY).map(
            lambda t: "\n".join(["name;model;cable;" + t[0][0], *t[0][1]]).encode(errors="replace")
        ),
    )
    def test_no_upload_is_an_error_of_the_server(self, kind: str, content: bytes) -> None:
        answer = dry_run(make_cast().browser("editor"), kind, content)
        assert answer.status_code in (200, 422)


def test_pedals_are_the_first_list() -> None:
    assert KINDS[0] is PEDALS
