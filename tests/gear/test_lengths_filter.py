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


@pytest.mark.parametrize(
    ("words", "text"),
    [
        # 1 in = 25.4 mm exactly (international inch): 314 mm = 12.36 in, 25 mm = 0.98 in.
        ("It stands 314 mm out of the frame.", "It stands 12.36 in out of the frame."),
        ("66 mm and 7 mm of the rails", "2.60 in and 0.28 in of the rails"),
        ("both at 25 to 254 mm across", "both at 0.98 to 10.00 in across"),
        ("outside the box, 254 × 508 mm", "outside the box, 10.00 × 20.00 in"),
        ("A foot switch at 254, 508 mm is out", "A foot switch at 10.00, 20.00 in is out"),
        ("at its edge there are 62.5 mm: short", "at its edge there are 2.461 in: short"),
        ("its 2.1 mm bore does not go over the 2.5 mm pin", None),
        ("0.5 mm² of copper, P12 mm", None),
        ("98 pF/m at 2145 Hz", None),
    ],
)
def test_a_sentence_has_its_lengths_in_the_shops_unit(words: str, text: str | None) -> None:
    assert shown("value|lengths_in:shop", words, "in") == (text or words)
    assert shown("value|lengths_in:shop", words, "mm") == words


def test_a_sentence_in_centimetres() -> None:
    assert shown("value|lengths_in:shop", "overlap by 45 mm", "cm") == "overlap by 4.5 cm"


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.34, "0.34"), (Decimal("0.3400"), "0.34"), (0.5, "0.5"), (Decimal("2.0000"), "2"), (0.0001, "0.0001")],
)
def test_a_figure_has_no_more_decimals_than_there_are(value: object, text: str) -> None:
    assert shown("value|figure", value) == text
