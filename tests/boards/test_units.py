"""One unit stands on one board: what the services, the lists, the database and the migration make of that."""

from importlib import import_module

import pytest
from django.apps import apps
from django.db import IntegrityError, connection, transaction

from boardshop.boards.errors import UnitElsewhere
from boardshop.boards.models import Board, Placement, SupplyPlacement
from boardshop.boards.services.boards import copy_board
from boardshop.boards.services.ends import add_supply, remove_supply
from boardshop.boards.services.pedals import add_pedal, change_pedal, remove_pedal
from boardshop.gear.models import Unit
from tests.board_factories import make_board, plan_of
from tests.factories import Cast, make_pedal_model, make_supply_model, make_unit

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop)


@pytest.fixture
def other(cast: Cast) -> Board:
    return make_board(cast.shop, name="Moorhen spare")


@pytest.fixture
def unit(cast: Cast) -> Unit:
    return make_unit(cast.shop, pedal=make_pedal_model(cast.shop, name="Long Vowel"), serial="LV-7")


def test_a_unit_on_another_board_is_refused_with_where_it_is(board: Board, other: Board, unit: Unit) -> None:
    add_pedal(board, 0, unit.pedal, unit)
    with pytest.raises(UnitElsewhere, match="Unit LV-7 is already P3 of board Nightjar main; take it off"):
        add_pedal(other, 0, unit.pedal, unit)
    assert Board.objects.get(pk=other.pk).edit_number == 0


def test_a_unit_is_not_twice_on_one_board(board: Board, unit: Unit) -> None:
    add_pedal(board, 0, unit.pedal, unit)
    with pytest.raises(UnitElsewhere, match="P3 of board Nightjar main"):
        add_pedal(board, 1, unit.pedal, unit)


def test_a_pedal_cannot_become_a_unit_that_stands_elsewhere(board: Board, other: Board, unit: Unit) -> None:
    add_pedal(board, 0, unit.pedal, unit)
    pedal = add_pedal(other, 0, unit.pedal)
    with pytest.raises(UnitElsewhere):
        change_pedal(other, 1, pedal, unit.pedal, unit, [])


def test_a_pedal_stays_the_unit_that_it_is(board: Board, unit: Unit) -> None:
    pedal = add_pedal(board, 0, unit.pedal, unit)
    change_pedal(board, 1, pedal, unit.pedal, unit, [], use=3)
    assert Placement.objects.get(unit=unit).use == 3


def test_taken_off_it_may_go_elsewhere(board: Board, other: Board, unit: Unit) -> None:
    remove_pedal(board, 1, add_pedal(board, 0, unit.pedal, unit))
    assert add_pedal(other, 0, unit.pedal, unit).unit == unit


def test_a_supply_is_a_unit_of_one_board_too(cast: Cast, board: Board, other: Board) -> None:
    model = make_supply_model(cast.shop)
    unit = make_unit(cast.shop, supply=model)
    placed = add_supply(board, 0, model, unit)
    with pytest.raises(UnitElsewhere, match="This unit is already S2 of board Nightjar main"):
        add_supply(other, 0, model, unit)
    remove_supply(board, 1, placed)
    assert add_supply(other, 0, model, unit).unit == unit


def test_any_number_of_one_model_may_stand_without_a_unit(board: Board, other: Board, unit: Unit) -> None:
    for place, seen in ((board, 0), (board, 1), (other, 0)):
        add_pedal(place, seen, unit.pedal)
    assert Placement.objects.filter(model=unit.pedal).count() == 3


def test_the_database_holds_it_against_two_at_once(board: Board, other: Board, unit: Unit) -> None:
    add_pedal(board, 0, unit.pedal, unit)
    second = add_pedal(other, 0, unit.pedal)
    with pytest.raises(IntegrityError, match="unit_is_one_pedal"), transaction.atomic():
        Placement.objects.filter(pk=second.pk).update(unit=unit)


def test_a_copy_has_the_model_and_not_the_unit(board: Board, unit: Unit) -> None:
    add_pedal(board, 0, unit.pedal, unit)
    copy = copy_board(board, name="Spare", client=None)
    assert [pedal.unit for pedal in plan_of(copy).pedals] == [None, None, None]


def test_the_list_says_where_a_unit_stands(cast: Cast, board: Board, other: Board, unit: Unit) -> None:
    add_pedal(board, 0, unit.pedal, unit)
    text = cast.browser("editor").get(f"/boards/{other.code}/order").text
    assert "Long Vowel, LV-7, on Nightjar main</option>" in text


def test_the_page_says_what_to_do(cast: Cast, board: Board, other: Board, unit: Unit) -> None:
    add_pedal(board, 0, unit.pedal, unit)
    typed = {"edit": 0, "gear": f"u{unit.pk}", "ref": ""}
    answer = cast.browser("editor").post(f"/boards/{other.code}/pedals/add", typed)
    assert answer.status_code == 422
    assert "take it off there first, or choose another unit" in answer.context["add_pedal"].errors["gear"][0]
    assert f'value="u{unit.pk}" selected' in answer.text


@pytest.mark.parametrize(
    ("kind", "constraint"), [(Placement, "unit_is_one_pedal"), (SupplyPlacement, "unit_is_one_supply")]
)
def test_the_migration_leaves_a_unit_where_it_was_first_and_says_so(
    cast: Cast, board: Board, other: Board, kind: type[Placement | SupplyPlacement], constraint: str
) -> None:
    pairs = list(zip(kind.objects.filter(board=board), kind.objects.filter(board=other), strict=False))
    assert pairs
    with connection.cursor() as cursor:
        cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
        cursor.execute(f"ALTER TABLE {kind._meta.db_table} DROP CONSTRAINT {constraint}")
    said = []
    for number, (first, second) in enumerate(pairs):
        of = {"pedal": first.model} if kind is Placement else {"supply": first.model}
        unit = make_unit(cast.shop, serial=f"LV-{number}", **of)
        kind.objects.filter(pk__in=[first.pk, second.pk]).update(unit=unit)
        said.append(f"{second.ref}: unit LV-{number} was on two boards; only its model is kept here.")
    import_module("boardshop.boards.migrations.0004_a_unit_on_one_board").release_doubles(apps, None)
    with connection.cursor() as cursor:
        cursor.execute(f"ALTER TABLE {kind._meta.db_table} ADD CONSTRAINT {constraint} UNIQUE (unit_id)")
    assert set(kind.objects.filter(unit__isnull=False)) == {first for first, _ in pairs}
    other.refresh_from_db()
    assert other.note == "\n".join(said)
