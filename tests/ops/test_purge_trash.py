"""The trash is emptied of what has lain there for more than 30 days."""

import io
from datetime import timedelta

import pytest
from django.core.management import call_command
from django.utils import timezone

from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board
from boardshop.boards.services.trash import trash_board
from boardshop.boards.services.variants import add_variant
from boardshop.crew.models import Person
from boardshop.crew.trash import KEPT_DAYS
from boardshop.gear.models import PedalModel
from boardshop.ops.demo.load import load_demo
from tests.factories import make_pedal_model, make_shop

pytestmark = pytest.mark.django_db
OLD = timedelta(days=KEPT_DAYS + 1)


def purge(*options: str) -> str:
    said = io.StringIO()
    call_command("purge_trash", *options, stdout=said)
    return said.getvalue()


@pytest.fixture
def old_model(db: None) -> PedalModel:
    return make_pedal_model(make_shop(), name="Ember", trashed_at=timezone.now() - OLD)


def test_a_dry_run_counts_and_deletes_nothing(old_model: PedalModel) -> None:
    assert "Would delete boards: 0, gear: 1" in purge("--dry-run")
    assert PedalModel.with_trash.filter(pk=old_model.pk).exists()


def test_what_is_old_goes_and_what_is_young_stays(old_model: PedalModel) -> None:
    young = make_pedal_model(
        old_model.shop, name="Young", trashed_at=timezone.now() - OLD + timedelta(days=2)
    )
    assert "Deleted boards: 0, gear: 1" in purge()
    assert list(PedalModel.with_trash.all()) == [young]


def test_gear_that_only_a_variant_uses_stays_and_is_named() -> None:
    shop = load_demo().shop
    code = Board.objects.filter(shop=shop).order_by("pk")[0].code
    board = get_board_for(Person.objects.get(memberships__shop=shop), code, editing=True)
    model = board.items.filter(placement__isnull=False).order_by("pk")[0].placement.model
    add_variant(board, board.edit_number, "Second")
    board.items.filter(placement__model=model).delete()
    model.units.all().delete()
    PedalModel.objects.filter(pk=model.pk).update(trashed_at=timezone.now() - OLD)
    assert f"stay in the trash: {model}." in purge()
    assert PedalModel.with_trash.filter(pk=model.pk).exists()


def test_an_old_board_goes_for_good() -> None:
    shop = load_demo().shop
    code = Board.objects.filter(shop=shop).order_by("pk")[0].code
    board = get_board_for(Person.objects.get(memberships__shop=shop), code, editing=True)
    trash_board(board, board.edit_number)
    Board.with_trash.filter(pk=board.pk).update(trashed_at=timezone.now() - OLD)
    assert "Deleted boards: 1" in purge()
    assert not Board.with_trash.filter(pk=board.pk).exists()
