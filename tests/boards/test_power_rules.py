import re

import pytest
from django.urls import reverse

from boardshop.boards.pages.power_rules import list_conditions
from boardshop.core.power.conditions import CHAIN_CONDITIONS
from boardshop.core.power.connectors import CONNECTOR_NOTES
from boardshop.core.power.mains_notes import MAINS_CAUTIONS, MAINS_CHECKS, REGIONS
from boardshop.core.power.rules import RULES
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def text(cast: Cast) -> str:
    return cast.browser("viewer").get(reverse("power-rules")).text


def rows(text: str) -> dict[str, str]:
    return dict(re.findall(r'<tr id="(P\d\d)">(.*?)</tr>', text, re.DOTALL))


def test_every_rule_is_printed_with_all_that_it_says(text: str) -> None:
    """P01 to P28 are the trade's, P29 and P30 this program's own."""
    printed = rows(text)
    assert list(printed) == [f"P{number:02}" for number in range(1, 31)]
    for rule in RULES.values():
        plain = printed[rule.id].replace("&#x27;", "'")
        assert f"severity is-{rule.severity}" in plain
        for words in (rule.when[1:], rule.why, rule.cure, rule.basis, rule.unless):
            assert words in plain
        assert all(grade.when in plain for grade in rule.also)


def test_chains_joined_outlets_connectors_and_mains_follow(text: str) -> None:
    plain = text.replace("&#x27;", "'")
    said = [one.wants for one in CHAIN_CONDITIONS] + [one.wants for one in list_conditions()]
    said += [*CONNECTOR_NOTES.values(), *MAINS_CAUTIONS]
    said += [one.look for one in MAINS_CHECKS] + [one.name for one in REGIONS]
    assert [words for words in said if words not in plain] == []


def test_the_page_never_calls_anything_safe(text: str) -> None:
    assert re.findall(r"\b(?:is|are) safe\b", text) == []


def test_it_is_only_looked_at(cast: Cast) -> None:
    assert cast.browser("viewer").post(reverse("power-rules")).status_code == 405


def test_each_rule_can_be_led_to_by_its_id(cast: Cast, text: str) -> None:
    assert '<tr id="P06">' in text
    assert f'href="{reverse("power-rules")}"' in cast.browser("viewer").get(reverse("order-rules")).text
