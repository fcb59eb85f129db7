import pytest
from django.urls import reverse

from boardshop.core import plan as core
from boardshop.gear.models import PedalModel
from boardshop.gear.shelves import pedal_record
from tests.factories import Cast, make_pedal_model
from tests.gear.forms import pedal

pytestmark = pytest.mark.django_db
URL = reverse("add-pedal-model")
FULL = pedal(
    maker="Kestrel",
    height="5,5 cm",
    weight="0.31 kg",
    input_ohm="1M",
    inverts="no",
    turns=["0", "180"],
    note="two\r\nlines",
    jacks=[
        {"name": "IN", "role": "in", "side": "right", "offset": "2 3/8 in"},
        {"name": "OUT", "role": "out"},
        {"name": "", "role": "", "side": ""},
    ],
    switches=[{"x": "36", "y": "20"}, {"x": "", "y": ""}],
    power=[{"name": "DC", "nominal": "9,6", "rated": "0.1 A", "polarity": "centre-negative"}],
)


def test_a_whole_data_sheet_is_kept(cast: Cast) -> None:
    answer = cast.browser("editor").post(URL, FULL)
    model = PedalModel.objects.get()
    assert answer.url == reverse("show-pedal-model", args=[model.pk])
    record = pedal_record(model)
    assert (record.height, record.weight, record.input_ohm, record.inverts) == (55, 310, 1_000_000, False)
    assert (record.turns, record.note, record.tails) == ((0, 180), "two\nlines", None)
    assert record.jacks == (core.Jack("IN", "in", "right", 60), core.Jack("OUT", "out"))
    assert record.switches == (core.Point(36, 20),)
    assert record.power == (core.PowerJack("DC", nominal=9600, polarity="centre-negative", rated=100),)


def test_the_page_begins_with_a_power_jack_of_which_nothing_is_known(cast: Cast) -> None:
    answer = cast.browser("editor").get(URL)
    assert [row["name"].value() for row in answer.context["sheet"].rows["power"]] == ["DC"]
    cast.browser("editor").post(URL, pedal(power=[{"name": "DC"}]))
    assert pedal_record(PedalModel.objects.get()).power == (core.PowerJack("DC"),)


def test_a_bare_length_counts_in_the_shops_unit(cast: Cast) -> None:
    cast.shop.length_unit = "in"
    cast.shop.save()
    cast.browser("editor").post(URL, pedal(width="4.72", depth="120 mm"))
    assert PedalModel.objects.values_list("width", "depth").get() == (120, 120)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"name": ""}, "is needed"),
        ({"kind": "toaster"}, "toaster"),
        ({"width": "wide"}, "such as 120 mm, 12.5 cm, 4.75 in"),
        ({"width": "0"}, "above zero"),
        ({"weight": "heavy"}, "310 g"),
        ({"turns": []}, "at least one turn"),
        ({"name": "a\x00b"}, "Null characters"),
        ({"name": "a\u202eb"}, "type it by hand"),
        ({"jacks-0-name": "I\u2066N", "jacks-0-role": "in"}, "type it by hand"),
        ({"note": "x" * 4001}, "4000"),
        ({"jacks-0-name": "A.B", "jacks-0-role": "in"}, "without a point"),
        ({"jacks-0-name": "IN", "jacks-0-role": ""}, "is needed"),
        (
            {"jacks-0-name": "IN", "jacks-0-role": "in", "jacks-0-side": "left", "jacks-0-offset": "200"},
            "measure the offset",
        ),
        ({"switches-0-x": "10", "switches-0-y": ""}, "both x and y"),
        ({"switches-0-x": "74", "switches-0-y": "5"}, "outside the box"),
        ({"power-0-name": "DC", "power-0-nominal": "nine"}, "9.6 V or 9000 mV"),
        ({"power-0-name": "DC", "power-0-min": "12", "power-0-max": "9"}, "swap the two"),
        ({"power-0-name": "DC", "power-0-nominal": "9000"}, "9000 mV"),
        ({"power-0-name": "DC", "power-0-rated": "0.3"}, "write 300 mA or 0.3 A"),
        ({"power-0-name": "DC", "power-0-peak": "1,200"}, "write 1200 or 1.2"),
    ],
)
def test_a_fault_is_told_and_what_was_typed_is_kept(cast: Cast, change: dict[str, object], says: str) -> None:
    typed = pedal(maker="Kestrel & Co", jacks=[{}], switches=[{}], power=[{}]) | change
    answer = cast.browser("editor").post(URL, typed)
    assert answer.status_code == 422
    assert says in answer.text
    assert "Kestrel &amp; Co" in answer.text
    assert not PedalModel.objects.exists()


def test_names_that_are_taken_are_told_beside_the_name(cast: Cast) -> None:
    make_pedal_model(cast.shop, name="EMBER")
    answer = cast.browser("editor").post(URL, pedal())
    assert answer.status_code == 422
    assert "already has" in str(answer.context["sheet"].form.errors["name"])


def test_one_more_row_needs_no_script_and_keeps_what_was_typed(cast: Cast) -> None:
    typed = pedal(width="wide", jacks=[{"name": "IN", "role": "in", "offset": "abc"}]) | {"add_row": "jacks"}
    answer = cast.browser("editor").post(URL, typed)
    assert answer.status_code == 200
    jacks = answer.context["sheet"].rows["jacks"]
    assert [(row["name"].value(), row["offset"].value()) for row in jacks] == [("IN", "abc"), (None, None)]
    assert answer.context["sheet"].form["width"].value() == "wide"
    assert "such as 120 mm" not in answer.text
    assert not PedalModel.objects.exists()


def test_for_htmx_only_the_form_is_sent(cast: Cast) -> None:
    answer = cast.browser("editor").post(URL, pedal() | {"add_row": "power"}, headers={"HX-Request": "true"})
    assert answer.text.lstrip().startswith('<form id="sheet"')
    assert cast.browser("editor").get(URL).text.count('<form id="sheet"') == 1


@pytest.mark.parametrize("count", ["", "-1", "x", "100000"])
def test_a_meddled_row_count_does_no_harm(cast: Cast, count: str) -> None:
    for extra in ({}, {"add_row": "jacks"}):
        answer = cast.browser("editor").post(URL, pedal() | {"jacks-TOTAL_FORMS": count} | extra)
        assert answer.status_code in (200, 302, 422)


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").get(URL).status_code == 403
    assert cast.browser("viewer").post(URL, FULL).status_code == 403


def test_a_strangers_pedal_lands_in_their_own_shop(cast: Cast) -> None:
    cast.browser("stranger").post(URL, FULL)
    assert PedalModel.objects.get().shop != cast.shop


def test_add_pedal_model_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405
