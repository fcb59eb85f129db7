import pytest
from django.apps import apps

from boardshop.boards.constraints import BOARD_REFUSALS
from boardshop.crew.constraints import Refusals, column_of, named_constraints, refusals_by
from boardshop.crew.errors import Refusal
from boardshop.gear import errors
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.models import CableType, PedalModel
from tests.factories import Cast, make_cable_type, make_pedal_model

pytestmark = pytest.mark.django_db


def test_every_named_constraint_of_gear_has_its_sentence() -> None:
    assert named_constraints(*apps.get_app_config("gear").get_models()) == sorted(GEAR_REFUSALS)


def test_a_refusal_of_the_database_is_raised_in_the_services_words(cast: Cast) -> None:
    make_cable_type(cast.shop, name="Low")
    with pytest.raises(errors.NameTaken, match="“LOW”"), refusals_by(GEAR_REFUSALS, name="LOW"):
        CableType.objects.create(shop=cast.shop, name="LOW")
    assert CableType.objects.count() == 1  # the transaction around it is still usable


@pytest.mark.parametrize(
    ("columns", "refusal", "says"),
    [
        ({"width": 0}, errors.SizeNotPositive, "^Width of “Ember” is zero"),
        ({"name": ""}, errors.NameMissing, "^A name is needed"),
        ({"kind": "toaster"}, errors.UnknownWord, "^Kind of “Ember” has a word"),
        ({"turns": []}, errors.TurnsUnknown, "at least one allowed turn"),
        ({"latency_ms": -1}, errors.AmountNegative, "^Latency of “Ember” is below zero"),
    ],
)
def test_what_no_check_caught_postgres_does(
    cast: Cast, columns: dict[str, object], refusal: type[Refusal], says: str
) -> None:
    model = make_pedal_model(cast.shop)
    with pytest.raises(refusal, match=says) as refused, refusals_by(GEAR_REFUSALS, name="Ember"):
        PedalModel.objects.filter(pk=model.pk).update(**columns)
    assert [refused.value.field] == list(columns)  # beside the field of that name


@pytest.mark.parametrize("table", [GEAR_REFUSALS, BOARD_REFUSALS])
def test_a_sentence_that_names_its_column_has_one(table: Refusals) -> None:
    naming = [name for name, kind in table.items() if "%(column)s" in (kind.__doc__ or "")]
    assert naming
    assert [name for name in naming if column_of(name) is None] == []
