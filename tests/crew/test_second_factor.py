"""One code, many requests at the same moment."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.db import connection

from boardshop.crew.accounts.second_factor import claim_code, release_code
from boardshop.crew.models import Person
from tests.factories import make_person, make_shop

CLAIMANTS = 8


def claim_together(person: Person, code: str) -> list[bool]:
    ready = Barrier(CLAIMANTS)

    def claim(_number: int) -> bool:
        ready.wait(10)
        try:
            return claim_code(person, code)
        finally:
            connection.close()

    with ThreadPoolExecutor(CLAIMANTS) as threads:
        return list(threads.map(claim, range(CLAIMANTS)))


@pytest.mark.django_db(transaction=True)
def test_of_many_who_show_one_code_at_once_one_gets_in() -> None:
    person = make_person(make_shop(), "editor")
    for code in ("123456", "654321"):
        assert sorted(claim_together(person, code)) == [False] * (CLAIMANTS - 1) + [True]


@pytest.mark.django_db
def test_a_code_that_did_not_fit_is_free_again() -> None:
    person = make_person(make_shop(), "editor")
    assert claim_code(person, "123456")
    release_code(person, "123456")
    assert claim_code(person, "123456")
