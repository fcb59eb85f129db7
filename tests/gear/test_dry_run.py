"""What a dry run says row by row: what a pedal lacks, what is taken for it, ditto marks, the shop's unit."""

import re

import pytest
from django.urls import reverse

from boardshop.gear.models import PedalModel
from boardshop.gear.shelves import pedal_record
from tests.factories import Cast, make_pedal_model
from tests.gear.forms import apply, dry_run, verdicts
from tests.gear.test_import_gear import SMALL, problems

pytestmark = pytest.mark.django_db

JACKS = "name;kind;width;depth;jacks;power jacks\n"


def asked(answer: object) -> list[str]:
    return [" ".join(row.questions) for row in answer.context["plan"].rows]


def stored_jacks(name: str) -> list[str]:
    return [f"{jack.name} {jack.role}" for jack in pedal_record(PedalModel.objects.get(name=name)).jacks]


@pytest.mark.parametrize("file", [SMALL, f"{JACKS}Ember;fuzz;73;129;;\n", f"{JACKS}Ember;fuzz;73;129;?;\n"])
def test_a_new_pedal_without_written_jacks_gets_in_and_out_and_the_dry_run_says_so(
    cast: Cast, file: str
) -> None:
    browser = cast.browser("editor")
    answer = dry_run(browser, "pedals", file)
    assert "No jacks are written, so it gets IN and OUT" in answer.text
    assert "one jack DC of which nothing is known" in answer.text
    apply(browser, "pedals", answer)
    assert stored_jacks("Ember") == ["IN in", "OUT out"]  # as in the form for a new pedal


def test_the_form_for_a_new_pedal_shows_the_same_jacks(cast: Cast) -> None:
    rows = cast.browser("editor").get(reverse("add-pedal-model")).context["sheet"].rows["jacks"]
    assert [(row["name"].value(), row["role"].value()) for row in rows][:2] == [("IN", "in"), ("OUT", "out")]


def test_what_a_pedal_lacks_is_said_in_the_dry_run(cast: Cast) -> None:
    browser = cast.browser("editor")
    answer = dry_run(
        browser, "pedals", f"{JACKS}Ember;fuzz;73;129;none;none\nTide;delay;73;129;IN in;DC: 9V\n"
    )
    assert asked(answer) == [
        "It has no jacks, so nothing can be linked to it; write them in the column jacks. "
        "It has no power jack, so nothing can feed it; is it passive?",
        "",
    ]
    apply(browser, "pedals", answer)
    assert stored_jacks("Ember") == []


def test_a_recorded_pedal_without_the_column_keeps_its_jacks(cast: Cast) -> None:
    make_pedal_model(cast.shop, name="Ember", width=70, jacks="A:in B:out", power="DC")
    browser = cast.browser("editor")
    apply(browser, "pedals", dry_run(browser, "pedals", "name,width mm\nEmber,73\n"))
    assert stored_jacks("Ember") == ["A in", "B out"]


def test_a_pedal_without_jacks_comes_back_without(cast: Cast) -> None:
    make_pedal_model(cast.shop, name="Ember")
    browser = cast.browser("editor")
    file = browser.get(reverse("export-gear", args=["pedals"])).content
    PedalModel.objects.all().delete()
    apply(browser, "pedals", dry_run(browser, "pedals", file))
    assert stored_jacks("Ember") == []


@pytest.mark.parametrize(
    ("row", "heading"),
    [
        ("Kestrel;〃;fuzz;73;129", "name"),
        ('Kestrel;"""";fuzz;73;129', "name"),
        ("Kestrel;Tide;ditto;73;129", "kind"),
        ("Kestrel;Tide;fuzz;〃;129", "width mm"),
    ],
)
def test_a_ditto_mark_is_refused_and_not_stored(cast: Cast, row: str, heading: str) -> None:
    answer = dry_run(cast.browser("editor"), "pedals", f"{SMALL}{row}\n")
    assert [(line, column) for line, column, _words in problems(answer)] == [(3, heading)]
    assert "is a ditto mark; write the value itself" in problems(answer)[0][2]


def test_a_maker_is_taken_from_the_line_above_but_not_from_nowhere(cast: Cast) -> None:
    head, first = SMALL.splitlines()
    browser = cast.browser("editor")
    assert verdicts(dry_run(browser, "pedals", f"{head}\n{first}\n〃;Tide;delay;73;129\n")) == ["new", "new"]
    assert problems(dry_run(browser, "pedals", f"{head}\n〃;Tide;delay;73;129\n"))[0][:2] == (2, "maker")


def test_the_dry_run_of_an_inch_shop_speaks_inches(cast: Cast) -> None:
    """1 in = 25.4 mm exactly: 73 mm = 2.87 in, 60 mm = 2.36 in, 254 mm = 10 in."""
    cast.shop.length_unit = "in"
    cast.shop.save()
    make_pedal_model(cast.shop, name="Slate", width=73, depth=129)
    file = "name,kind,width mm,depth mm,jacks\nEmber,fuzz,73,129,IN in right 60mm\n"
    file += "Slate,overdrive,254,129,none\n"
    text = read_words(dry_run(cast.browser("editor"), "pedals", file).text)
    assert "width in 2.87" in text
    assert "jacks IN in right 2.36in" in text
    assert "width in: 2.87 → 10.00" in text
    assert "mm" not in text


def read_words(html: str) -> str:
    return " ".join(re.sub(r"<input[^>]*>|<[^>]*>", " ", html).replace(" :", ":").split())
