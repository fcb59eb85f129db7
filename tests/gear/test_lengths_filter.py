from decimal import Decimal

import pytest
from django.template import Context, Template

from boardshop.crew.models import Shop


def shown(filtered: str, value: object, unit: str = "mm") -> str:
    shop = Shop(length_unit=unit, currency="EUR")
    template = Template("{% load lengths %}{{ " + filtered + " }}")
    return template.render(Context({"value": value, "shop": shop}))


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (120, "mm", "120 mm"),
        (120, "cm", "12 cm"),
        (120, "in", "4.72 in"),
        (Decimal("6.200"), "mm", "6.2 mm"),
        (0, "mm", "0 mm"),
        (None, "in", "not recorded"),
    ],
)
def test_lengths_follow_the_shop(value: object, unit: str, text: str) -> None:
    assert shown("value|mm:shop", value, unit) == text


def test_a_unit_may_stand_for_the_shop() -> None:
    assert shown('value|mm:"cm"', 125) == "12.5 cm"


@pytest.mark.parametrize(
    ("filtered", "value", "text"),
    [
        ("value|volts", 9600, "9.6 V"),
        ("value|volts", None, "not recorded"),
        ("value|watts", 36_500, "36.5 W"),
        ('value|known:"mA"', 0, "0 mA"),
        ('value|known:"mA"', None, "not recorded"),
        ("value|known", "", "not recorded"),
        ("value|known", False, "no"),
        ("value|known", True, "yes"),
        ("value|price:shop", Decimal("2.4000"), "2.40 EUR"),
        ("value|price:shop", Decimal("0.0125"), "0.0125 EUR"),
    ],
)
def test_unknown_says_so_and_the_rest_has_its_unit(filtered: str, value: object, text: str) -> None:
    assert shown(filtered, value) == text
