"""A board file that is right but holds more than the database can: named, nothing stored."""

import json
from dataclasses import replace
from typing import Any

import pytest

from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.boards import import_board
from boardshop.core.boardfile import dump_plan
from boardshop.core.plan import BoardPlan, Jack
from boardshop.crew.errors import Refusal
from boardshop.gear.models import PedalModel
from tests.core import builders as b
from tests.factories import make_shop

pytestmark = pytest.mark.django_db


def as_file(plan: BoardPlan) -> bytes:
    return json.dumps(dump_plan(plan)).encode()


def refused(**changes: Any) -> str:
    plan = replace(b.wired_board(b.pedal("P1", name="Low Ember"), name="Main"), **changes)
    with pytest.raises(Refusal) as caught:
        import_board(make_shop(), as_file(plan))
    assert not Board.objects.exists()
    assert not PedalModel.objects.exists()
    return str(caught.value)


def test_a_long_name_of_a_pedal_is_named() -> None:
    told = refused(pedals=(b.pedal("P1", name="x" * 81),))
    assert told.startswith("Pedal xxx")
    assert "at most 80 characters (it has 81)" in told


def test_a_long_name_of_the_board() -> None:
    assert refused(name="x" * 81).startswith("The board cannot be stored: name.")


def test_a_long_ref() -> None:
    long = "P" * 41
    told = refused(pedals=(b.pedal(long, name="Low Ember"),), links=())
    assert told.startswith(f"{long} cannot be stored: ref.")


def test_a_bend_radius_of_zero() -> None:
    assert refused(cables=(b.cable_type("C1", min_bend=0),)).startswith("Cable C1 cannot be stored")


def test_a_price_beyond_its_column() -> None:
    assert "below 100000000" in refused(plugs=(b.plug_type("J1", price=5e8), b.dc_plug_type()))


def test_a_jack_name_of_two_words() -> None:
    spaced = b.pedal("P1", name="Low Ember", jacks=(Jack("IN A", "in"), Jack("OUT", "out")))
    assert "one word" in refused(pedals=(spaced,), links=())


def test_names_of_cables_plugs_and_makers_come_back() -> None:
    plan = b.wired_board(
        b.pedal("P1", name="Low Ember", maker="Ostrel"),
        name="Main",
        cables=(b.cable_type("C1", name="slim"),),
        plugs=(b.plug_type("J1", name="flat"),),
    )
    read = load_plan(import_board(make_shop(), as_file(plan)))
    assert (read.pedals[0].maker, read.cables[0].name, read.plugs[0].name) == ("Ostrel", "slim", "flat")
