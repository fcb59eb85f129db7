import pytest
from django.urls import reverse

from boardshop.boards.pages.rules import list_rule_lines
from tests.factories import Cast

pytestmark = pytest.mark.django_db

TRADES = {f"R{number:02}" for number in range(1, 47)}


def test_every_rule_of_the_trade_is_told_with_its_reason_and_basis(cast: Cast) -> None:
    """R01 to R46, those included that make no finding of their own; common practice, each in our words."""
    lines = list_rule_lines()
    assert {line.id for line in lines} >= TRADES | {"LEVEL", "PHANTOM"}
    assert all(line.why and line.basis for line in lines)
    answer = cast.browser("viewer").get(reverse("order-rules"))
    assert all(f">{line.id}</th>" in answer.text for line in lines)


def test_a_rule_of_one_school_names_it() -> None:
    schools = {(line.id, line.severity): line.school for line in list_rule_lines() if line.school}
    assert schools[("R16", "advice")] == "common"
    assert schools[("R16", "caution")] == "dynamics-first"
    assert schools[("R44", "advice")] == "dynamics-first"


def test_a_rule_that_never_speaks_says_why() -> None:
    assert [line.id for line in list_rule_lines() if line.silent_because] == ["R33", "R39", "R46"]


def test_it_is_only_looked_at(cast: Cast) -> None:
    assert cast.browser("viewer").post(reverse("order-rules")).status_code == 405
