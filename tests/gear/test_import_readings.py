"""What a table says in ways that can be misread, and a table that comes in a second time."""

import pytest
from django.urls import reverse

from boardshop.core import plan as core
from boardshop.gear.kinds import KINDS
from boardshop.gear.models import PedalModel
from boardshop.gear.shelves import pedal_record
from tests.factories import Cast
from tests.gear.forms import apply, dry_run, verdicts
from tests.gear.test_dry_run import asked, stored_jacks
from tests.gear.test_import_gear import problems

pytestmark = pytest.mark.django_db


def pedals(heading: str, cell: str) -> str:
    return f"name;kind;width;depth;jacks;{heading}\nEmber;fuzz;73;129;IN in;{cell}\n"


def power_after(cast: Cast, file: str) -> core.PowerJack:
    browser = cast.browser("editor")
    apply(browser, "pedals", dry_run(browser, "pedals", file))
    (jack,) = pedal_record(PedalModel.objects.get(name="Ember")).power
    return jack


@pytest.mark.parametrize(
    ("heading", "cell", "column", "says"),
    [
        ("Current", "0.3", "current mA", "write 300 mA or 0.3 A"),
        ("Current", "0,3", "current mA", "write 300 mA or 0.3 A"),
        ("current mA", "0.012", "current mA", "write 12 mA or 0.012 A"),
        ("Current", "1,200", "current mA", "write 1200 or 1.2"),
        ("peak mA", "1.200", "peak mA", "write 1200 or 1.2"),
        ("power jacks", "DC: 9V 0.3 mA", "power jacks", "write 300 mA or 0.3 A"),
        ("maker", "Kes\u202etrel", "maker", "U+202E"),
        ("power jacks", "D\u2066C: 9V", "power jacks", "U+2066"),
        ("note", "a\u202eb", "note", "type it by hand"),
        ("polarity", "-", "polarity", "write centre-negative or centre-positive"),
        ("polarity", "+", "polarity", "write centre-negative or centre-positive"),
        ("polarity", "(-)", "polarity", "write centre-negative or centre-positive"),
    ],
)
def test_what_can_be_misread_is_refused(cast: Cast, heading: str, cell: str, column: str, says: str) -> None:
    ((_line, at, words),) = problems(dry_run(cast.browser("editor"), "pedals", pedals(heading, cell)))
    assert at == column
    assert says in words


@pytest.mark.parametrize(
    ("heading", "cell", "ma"), [("Current", "0.3 A", 300), ("Current (A)", "0.3", 300), ("Current", "4.5", 5)]
)
def test_amperes_with_their_unit_are_taken(cast: Cast, heading: str, cell: str, ma: int) -> None:
    assert power_after(cast, pedals(heading, cell)).rated == ma


@pytest.mark.parametrize(
    ("kind", "file", "about"),
    [
        ("pedals", pedals("Current", "12 A"), "DC: 12000 mA is unusually much"),
        ("pedals", pedals("peak mA", "3001"), "DC: 3001 mA is unusually much"),
        ("pedals", pedals("Current", "0"), "DC: 0 mA says that it needs or gives nothing"),
        (
            "supplies",
            "name;outlets\nEight;1: 9V 5A group A group max 9000mA\n",
            "1: 5000 mA is unusually much",
        ),
    ],
)
def test_an_unusual_current_is_asked_about(cast: Cast, kind: str, file: str, about: str) -> None:
    assert about in asked(dry_run(cast.browser("editor"), kind, file))[0]


def test_a_usual_current_is_not_asked_about(cast: Cast) -> None:
    assert asked(dry_run(cast.browser("editor"), "pedals", pedals("Current", "3000"))) == [""]


def test_a_measured_draw_is_asked_about_too(cast: Cast) -> None:
    browser = cast.browser("editor")
    apply(browser, "pedals", dry_run(browser, "pedals", pedals("Current", "100")))
    answer = dry_run(browser, "units", "model;serial;measured\nEmber;1;DC 98A\n")
    assert asked(answer) == ["DC: 98000 mA is unusually much; is the unit right?"]


def test_a_range_of_a_label_gives_no_least(cast: Cast) -> None:
    """9 V less the drop of any lead would be below a least of 9.000 V."""
    file = pedals("volts V", "9-18V")
    answer = dry_run(cast.browser("editor"), "pedals", file)
    assert asked(answer) == ["9-18 V read as label 9 V, most 18 V; least not recorded."]
    assert power_after(cast, file) == core.PowerJack("DC", None, 9000, max=18_000)


def test_a_least_in_its_own_column_is_kept(cast: Cast) -> None:
    file = pedals("volts V;least V", "9-18V;8.5")
    assert asked(dry_run(cast.browser("editor"), "pedals", file)) == [""]
    assert power_after(cast, file) == core.PowerJack("DC", None, 9000, 8500, 18_000)


@pytest.mark.parametrize(
    ("cell", "polarity"),
    [
        ("neg", "centre-negative"),
        ("Negative", "centre-negative"),
        ("centre neg", "centre-negative"),
        ("center negative", "centre-negative"),
        ("centre -", "centre-negative"),
        ("pos", "centre-positive"),
        ("Center positive", "centre-positive"),
        ("", None),
        ("?", None),
    ],
)
def test_the_words_for_a_polarity(cast: Cast, cell: str, polarity: str | None) -> None:
    assert power_after(cast, pedals("polarity", cell)).polarity == polarity


MANY = (
    "maker;name;kind;width;depth;jacks;foot switches;volts V;mA;polarity;power jacks;input ohm;turns\n"
    "Kestrel;Ember;fuzz;73;129;;;9-18V;12;neg;;8k2;\n"
    "〃;Slate;overdrive;73;129;?;x 36 y 20;;;;;1M5;0/180\n"
    "Halden;Tide;delay;120;129;none;;;;;none;;\n"
    ";Pair;delay;120;129;IN in; ;;;;A: 9V 100mA; ;\n"
)


def test_a_table_that_comes_in_twice_changes_nothing_the_second_time(cast: Cast) -> None:
    browser = cast.browser("editor")
    apply(browser, "pedals", dry_run(browser, "pedals", MANY))
    assert stored_jacks("Ember") == ["IN in", "OUT out"]
    assert verdicts(dry_run(browser, "pedals", MANY)) == ["unchanged"] * 4


@pytest.mark.parametrize("kind", [kind.slug for kind in KINDS])
def test_the_template_of_each_kind_comes_in_twice_alike(cast: Cast, kind: str) -> None:
    browser = cast.browser("editor")
    for first in {"stock": ["cables"], "units": ["pedals"]}.get(kind, []) + [kind]:
        file = browser.get(reverse("download-template", args=[first])).content
        assert apply(browser, first, dry_run(browser, first, file)).status_code == 302
    assert set(verdicts(dry_run(browser, kind, file))) == {"unchanged"}
