"""Gear that a board uses: its rows live on, and nothing is pulled out from under a board."""

from dataclasses import replace

import pytest
from django.urls import reverse

from boardshop.boards.models import Board, Feed, FeedJack, FeedOutlet, Frame, Link, Placement, SupplyPlacement
from boardshop.core import plan as core
from boardshop.gear import errors, services
from boardshop.gear.csv_import.sheets import sheet_of
from boardshop.gear.forms.units import model_key
from boardshop.gear.kinds import UNITS
from boardshop.gear.models import PedalModel, SupplyModel, Unit
from boardshop.gear.shelves import pedal_record, supply_record, unit_record
from tests.factories import Cast, make_cable_type, make_pedal_model, make_supply_model, make_unit
from tests.gear.forms import apply, dry_run

pytestmark = pytest.mark.django_db


@pytest.fixture
def pedal(cast: Cast) -> PedalModel:
    return make_pedal_model(cast.shop, name="Ember", jacks="IN:in OUT:out SEND:send", power="DC AUX")


@pytest.fixture
def supply(cast: Cast) -> SupplyModel:
    return make_supply_model(cast.shop, name="Eight", outlets="1 2")


@pytest.fixture(autouse=True)
def board(cast: Cast, pedal: PedalModel, supply: SupplyModel) -> Board:
    """P1.OUT -> P2.IN by W1; outlet 1 feeds P1.DC."""
    board = Board.objects.create(shop=cast.shop, name="Main")
    frame = Frame.objects.create(board=board, width=600, depth=320)
    first, second = (
        Placement.objects.create(board=board, frame=frame, ref=ref, model=pedal) for ref in ("P1", "P2")
    )
    cable = make_cable_type(cast.shop, name="Low")
    out, into = pedal.jacks.get(name="OUT"), pedal.jacks.get(name="IN")
    Link.objects.create(
        board=board, ref="W1", cable=cable, from_item=first, from_jack=out, to_item=second, to_jack=into
    )
    feed = Feed.objects.create(board=board)
    placed = SupplyPlacement.objects.create(board=board, ref="S1", model=supply)
    FeedOutlet.objects.create(feed=feed, supply=placed, outlet=supply.outlets.get(name="1"))
    FeedJack.objects.create(feed=feed, pedal=first, jack=pedal.power_jacks.get(name="DC"))
    return board


def test_a_linked_jack_stays_and_the_refusal_names_the_link(pedal: PedalModel) -> None:
    record = pedal_record(pedal)
    with pytest.raises(errors.PieceInUse, match="OUT of “Ember” is used by W1 of board Main"):
        services.change_pedal_model(pedal, replace(record, jacks=record.jacks[:1]))
    assert pedal_record(pedal) == record


def test_a_fed_power_jack_stays(pedal: PedalModel) -> None:
    record = pedal_record(pedal)
    with pytest.raises(errors.PieceInUse, match=r"used by the feed of P1\.DC of board Main"):
        services.change_pedal_model(pedal, replace(record, power=()))


def test_the_role_of_a_linked_jack_stays(pedal: PedalModel) -> None:
    record = pedal_record(pedal)
    turned = (record.jacks[0], core.Jack("OUT", "send"), record.jacks[2])
    with pytest.raises(errors.PieceInUse, match="W1 of board Main"):
        services.change_pedal_model(pedal, replace(record, jacks=turned))


def test_unused_jacks_go_and_used_ones_may_be_measured_anew_and_renamed(
    pedal: PedalModel, board: Board
) -> None:
    link = Link.objects.get(board=board)
    jacks = (core.Jack("IN", "in", "right", 60), core.Jack("OUT_L", "out", "left", 60))
    record = replace(pedal_record(pedal), jacks=jacks, power=(core.PowerJack("DC", nominal=9000),))
    services.change_pedal_model(pedal, record, renamed_jacks={"OUT": "OUT_L"})
    link.refresh_from_db()
    assert (link.from_jack.name, link.from_jack.offset) == ("OUT_L", 60)


def test_a_used_outlet_stays_and_an_unused_one_goes(supply: SupplyModel) -> None:
    record = supply_record(supply)
    services.change_supply_model(supply, replace(record, outlets=record.outlets[:1]))
    with pytest.raises(errors.PieceInUse, match=r"the feed from S1\.1 of board Main"):
        services.change_supply_model(supply, replace(record, outlets=record.outlets[1:]))


def test_the_page_says_so_and_keeps_what_was_typed(cast: Cast, pedal: PedalModel) -> None:
    from tests.gear.test_change_pedal_model import as_shown

    url = reverse("change-pedal-model", args=[pedal.pk])
    answer = cast.browser("editor").post(url, as_shown(cast, url) | {"jacks-1-DELETE": "on", "weight": "310"})
    assert answer.status_code == 422
    assert "W1 of board Main" in answer.text
    assert answer.context["sheet"].form["weight"].value() == "310"


def test_a_dry_run_refuses_the_row(cast: Cast) -> None:
    answer = dry_run(cast.browser("editor"), "pedals", "name,jacks\nEmber,IN in; SEND send\n")
    assert "W1 of board Main" in str(answer.context["plan"].rows[0].problems)


def test_models_and_cables_of_a_board_stay_on_the_list(pedal: PedalModel, board: Board) -> None:
    with pytest.raises(errors.GearInUse, match="P1 of board Main, P2 of board Main"):
        services.delete_gear(pedal)
    with pytest.raises(errors.GearInUse, match="W1 of board Main"):
        services.delete_gear(Link.objects.get(board=board).cable)


@pytest.fixture
def unit(cast: Cast, pedal: PedalModel) -> Unit:
    """Unit 7 of the pedal stands as P1; the shop has another pedal, Tide."""
    make_pedal_model(cast.shop, name="Tide", jacks="IN:in OUT:out", power="DC")
    unit = make_unit(cast.shop, pedal=pedal, serial="7")
    Placement.objects.filter(ref="P1").update(unit=unit)
    return unit


@pytest.mark.parametrize(("what", "model"), [("pedal", "Tide"), ("supply", "Eight")])
def test_the_model_of_a_unit_on_a_board_stays(unit: Unit, what: str, model: str) -> None:
    record = replace(unit_record(unit), what=what, model=model)
    with pytest.raises(errors.UnitStandsOnBoard, match="P1 of board Main; take it off there first"):
        services.change_unit(unit, record)
    assert Unit.objects.get().pedal == unit.pedal


def test_the_model_of_a_supply_unit_on_a_board_stays(cast: Cast, supply: SupplyModel) -> None:
    unit = make_unit(cast.shop, supply=supply, serial="3")
    SupplyPlacement.objects.update(unit=unit)
    with pytest.raises(errors.UnitStandsOnBoard, match="S1 of board Main"):
        services.change_unit(unit, replace(unit_record(unit), what="pedal", model="Ember"))


def test_the_rest_of_a_unit_on_a_board_may_change_and_its_model_once_it_is_off(unit: Unit) -> None:
    services.change_unit(unit, replace(unit_record(unit), serial="8", location="trunk 3"))
    Placement.objects.update(unit=None)
    services.change_unit(unit, replace(unit_record(unit), model="Tide"))
    assert str(Unit.objects.get().pedal) == "Tide"


def test_the_page_of_a_unit_on_a_board_says_so(cast: Cast, unit: Unit) -> None:
    from tests.gear.test_change_unit import typed

    url = reverse("change-unit", args=[unit.pk])
    answer = cast.browser("editor").post(url, typed(unit, model=model_key("pedal", "", "Tide")))
    assert answer.status_code == 422
    assert "P1 of board Main" in answer.text


def test_a_table_of_units_leaves_the_model_of_one_on_a_board(cast: Cast, unit: Unit) -> None:
    """Rows are found by model and serial, so another model with its serial is another unit."""
    sheet = sheet_of(UNITS)
    with pytest.raises(errors.UnitStandsOnBoard, match="P1 of board Main"):
        sheet.change(unit, replace(unit_record(unit), model="Tide"))
    browser = cast.browser("editor")
    apply(browser, "units", dry_run(browser, "units", "model;serial\nTide;7\n"))
    assert [str(row.pedal) for row in Unit.objects.order_by("pk")] == ["Ember", "Tide"]
