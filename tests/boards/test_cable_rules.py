import re

import pytest
from django.urls import reverse

from boardshop.boards.pages.cable_rules import list_cable_rules, list_tone_rules
from boardshop.core.cables.rules import CABLE_RULES
from boardshop.core.tone.rules import NOTES, TONE_RULES
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def text(cast: Cast) -> str:
    return cast.browser("viewer").get(reverse("cable-rules")).text.replace("&#x27;", "'")


def test_every_rule_is_printed_with_all_that_it_says(text: str) -> None:
    printed = dict(re.findall(r'<tr id="([CT]\d\d)">(.*?)</tr>', text, re.DOTALL))
    assert list(printed) == [*CABLE_RULES, *TONE_RULES]
    for line in (*list_cable_rules(), *list_tone_rules()):
        for words in (line.when[1:], line.cure, line.basis):
            assert words in printed[line.id]
        assert all(f"severity is-{severity}" in printed[line.id] for severity in line.severities)


def test_what_belongs_beside_every_figure_of_tone_follows(text: str) -> None:
    assert all(words in text for _rule, words in NOTES)


def test_the_page_defers_to_licensed_people_and_never_calls_anything_safe(text: str) -> None:
    assert "licensed people under local codes" in text
    assert re.findall(r"\b(?:is|are) safe\b", text) == []


def test_it_is_only_looked_at(cast: Cast) -> None:
    assert cast.browser("viewer").post(reverse("cable-rules")).status_code == 405


def test_the_other_pages_of_rules_lead_to_it(cast: Cast) -> None:
    for name in ("order-rules", "power-rules"):
        assert f'href="{reverse("cable-rules")}"' in cast.browser("viewer").get(reverse(name)).text
