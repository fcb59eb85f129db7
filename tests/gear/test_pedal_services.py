from dataclasses import replace

import pytest

from boardshop.core import plan as core
from boardshop.gear import errors
from boardshop.gear.models import PedalJack, PedalModel
from boardshop.gear.records import PedalRecord
from boardshop.gear.services import add_pedal_model, change_pedal_model
from boardshop.gear.services.keeping import mark_of
from boardshop.gear.shelves import pedal_record
from tests.factories import Cast, make_pedal_model, make_unit

pytestmark = pytest.mark.django_db
SHEET = PedalRecord(
    maker="Kestrel",
    name="Ember",
    kind="fuzz",
    width=73,
    depth=129,
    jacks=(core.Jack("IN", "in", "right", 60), core.Jack("OUT", "out", "left", 60)),
    switches=(core.Point(36, 20),),
    power=(core.PowerJack("DC", nominal=9000, rated=12),),
)


@pytest.fixture
def model(cast: Cast) -> PedalModel:
    return add_pedal_model(cast.shop, SHEET)


def keys(model: PedalModel) -> dict[str, int]:
    return dict(PedalJack.objects.filter(model=model).values_list("name", "pk"))


def test_a_data_sheet_is_read_back_as_it_was_given(model: PedalModel) -> None:
    assert pedal_record(model) == SHEET


def test_change_keeps_the_rows_of_jacks_with_the_same_name(model: PedalModel) -> None:
    before = keys(model)
    jacks = (core.Jack("out", "out", "rear", 10), core.Jack("IN", "in"), core.Jack("SEND", "send"))
    change_pedal_model(model, replace(SHEET, jacks=jacks))
    after = keys(model)
    assert (after["out"], after["IN"]) == (before["OUT"], before["IN"])
    assert pedal_record(model).jacks == jacks


def test_a_renamed_jack_keeps_its_row_also_when_two_change_places(model: PedalModel) -> None:
    before = keys(model)
    jacks = (core.Jack("OUT", "in"), core.Jack("IN", "out"))
    change_pedal_model(model, replace(SHEET, jacks=jacks), renamed_jacks={"IN": "OUT", "OUT": "IN"})
    assert keys(model) == {"OUT": before["IN"], "IN": before["OUT"]}


def test_a_renamed_power_jack_takes_its_measured_draw_along(cast: Cast, model: PedalModel) -> None:
    unit = make_unit(cast.shop, pedal=model)
    unit.draws.create(jack="DC", measured=11)
    power = (core.PowerJack("DC9", nominal=9000),)
    change_pedal_model(model, replace(SHEET, power=power), renamed_power={"DC": "DC9"})
    assert [(draw.jack, draw.measured) for draw in unit.draws.all()] == [("DC9", 11)]


def test_what_somebody_else_changed_is_not_overwritten(model: PedalModel) -> None:
    seen = mark_of(SHEET)
    change_pedal_model(model, replace(SHEET, width=80), seen=seen)
    with pytest.raises(errors.ChangedMeanwhile, match="different from yours: width, weight"):
        change_pedal_model(model, replace(SHEET, weight=300), seen=seen)


def test_the_name_is_taken_whatever_its_capitals(cast: Cast, model: PedalModel) -> None:
    with pytest.raises(errors.NameTaken, match="KESTREL ember"):
        add_pedal_model(cast.shop, replace(SHEET, maker="KESTREL", name="ember"))


@pytest.mark.parametrize(
    ("change", "refusal"),
    [
        ({"jacks": (core.Jack("IN", "in"), core.Jack("in", "out"))}, errors.JackNameTwice),
        ({"jacks": (core.Jack("A.B", "in"),)}, errors.JackNameNotOneWord),
        ({"jacks": (core.Jack("IN", "in", "right", 130),)}, errors.JackBeyondSide),
        ({"switches": (core.Point(74, 0),)}, errors.SwitchOutsideBox),
        ({"power": (core.PowerJack(min=9000, max=8999),)}, errors.PowerRange),
        ({"name": ""}, errors.NameMissing),
    ],
)
def test_a_faulty_sheet_is_refused_whole(cast: Cast, change: dict[str, object], refusal: type) -> None:
    with pytest.raises(refusal):
        add_pedal_model(cast.shop, replace(SHEET, **change))
    assert not PedalModel.objects.exists()


@pytest.mark.parametrize(
    "change", [{"jacks": (core.Jack("IN", "in", "right", 129),)}, {"switches": (core.Point(73, 129),)}]
)
def test_an_edge_still_belongs_to_the_box(cast: Cast, change: dict[str, object]) -> None:
    add_pedal_model(cast.shop, replace(SHEET, **change))


def test_unnamed_fields_of_a_minimal_pedal_stay_unknown(cast: Cast) -> None:
    record = pedal_record(make_pedal_model(cast.shop, name="Bare"))
    assert record == PedalRecord(name="Bare", kind="overdrive", width=73, depth=129)
