from contextlib import suppress
from importlib import import_module

import pytest
from django.apps import apps
from django.db import connection

from boardshop.crew.constraints import named_constraints, refusals_by
from boardshop.crew.models import Person
from boardshop.crew.newcomers import PERSON_REFUSALS, UsernameTaken, make_person
from tests.factories import PASSWORD

pytestmark = pytest.mark.django_db
migration = import_module("boardshop.crew.migrations.0007_names_whatever_their_case")


@pytest.mark.parametrize(("first", "second"), [("Mira", "mira"), ("mira", "MIRA"), ("ärmel", "ÄRMEL")])
def test_names_that_differ_in_case_are_one_name(first: str, second: str) -> None:
    make_person(first, password=PASSWORD)
    with pytest.raises(UsernameTaken, match=f"with the name {second}, capitals or not") as refusal:
        make_person(second, password=PASSWORD)
    assert refusal.value.field == "username"


def test_the_database_refuses_it_in_the_same_words(monkeypatch: pytest.MonkeyPatch) -> None:
    Person.objects.create_user("Mira")
    # As in a race: the look-up saw nobody of that name yet.
    monkeypatch.setattr("django.db.models.query.QuerySet.exists", lambda self: False)
    with pytest.raises(UsernameTaken, match="with the name MIRA"):
        make_person("MIRA", password=PASSWORD)


def test_every_constraint_of_a_person_has_its_sentence() -> None:
    assert set(named_constraints(Person)) <= set(PERSON_REFUSALS)
    Person.objects.create_user("Mira")
    with pytest.raises(UsernameTaken), refusals_by(PERSON_REFUSALS, username="Mira"):
        Person.objects.create(username="Mira")


def test_a_name_that_only_looks_like_another_in_capitals_locks_nobody_out() -> None:
    # Unicode 16, UnicodeData.txt: the capital of U+0131 (dotless i) is I, its small letter is itself.
    mira = make_person("mira", password=PASSWORD)
    with suppress(UsernameTaken):
        make_person("m\u0131ra", password=PASSWORD)
    assert Person.objects.get_by_natural_key("MIRA") == mira


def test_a_person_is_found_whatever_the_case() -> None:
    mira = make_person("Mira", password=PASSWORD)
    assert Person.objects.get_by_natural_key("mIRA") == mira
    with pytest.raises(Person.DoesNotExist):
        Person.objects.get_by_natural_key("mir")


def test_a_database_with_such_names_is_told_them_and_keeps_them() -> None:
    constraint = next(one for one in Person._meta.constraints if one.name in PERSON_REFUSALS)
    with connection.schema_editor() as editor:
        editor.remove_constraint(Person, constraint)
    for name in ("Mira", "Nils", "mira"):
        Person.objects.create_user(name)
    with connection.schema_editor() as editor, pytest.raises(migration.NamesAlike, match="Mira and mira"):
        migration.refuse_names_alike(apps, editor)
    assert sorted(Person.objects.values_list("username", flat=True)) == ["Mira", "Nils", "mira"]


def test_a_database_without_such_names_passes() -> None:
    Person.objects.create_user("Mira")
    with connection.schema_editor() as editor:
        migration.refuse_names_alike(apps, editor)
