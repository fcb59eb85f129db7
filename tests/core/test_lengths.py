"""Inch values: 1 in = 25.4 mm exactly, by the international yard and pound agreement of 1959."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardshop.core.lengths import (
    SHOWN_UNITS,
    AmbiguousLength,
    LengthError,
    NegativeLength,
    TooLong,
    UnreadableLength,
    length_figure,
    parse_exact_length,
    parse_length,
    show_length,
    show_metres,
)


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("120", "mm", 120),
        ("120", "cm", 1200),
        ("12,5 cm", "mm", 125),
        ("12.5cm", "in", 125),
        ("4 3/4 in", "mm", 121),  # 120.65
        ("4-3/4 in", "mm", 121),
        ("4¾″", "mm", 121),
        ('4.75"', "mm", 121),
        ("4.7", "in", 119),  # 119.38
        ("4.7 Inches", "mm", 119),
        ("1/2 in", "mm", 13),  # 12.7
        ("1 ft", "mm", 305),  # 304.8
        ("1' 2\"", "mm", 356),  # 355.6
        ("1.2 m", "in", 1200),
        ("1.250 m", "mm", 1250),
        ("4.125", "in", 105),  # 104.775
        ("0", "mm", 0),
        (" 12 mm ", "in", 12),
        (",5 cm", "mm", 5),
        ("0.500 cm", "mm", 5),
    ],
)
def test_lengths_as_people_type_them(text: str, unit: str, mm: int) -> None:
    assert parse_length(text, unit) == mm


@pytest.mark.parametrize(("text", "mm"), [("0.5", 1), ("1.5", 2), ("2.5", 3), ("0.4", 0), ("2.499", 2)])
def test_halves_round_up(text: str, mm: int) -> None:
    assert parse_length(text + (" mm" if len(text) < 5 else "0 mm"), "in") == mm


@pytest.mark.parametrize(
    ("text", "error"),
    [
        ("", UnreadableLength),
        ("wide", UnreadableLength),
        ("120 furlongs", UnreadableLength),
        ("12 0 mm", UnreadableLength),
        ("4 in 3 in", UnreadableLength),
        ("1/0 in", UnreadableLength),
        ("1e3", UnreadableLength),
        ("٣", UnreadableLength),
        ("9" * 100, UnreadableLength),
        ("-4 mm", NegativeLength),
        ("−4", NegativeLength),
        ("1,250", AmbiguousLength),
        ("1.250 mm", AmbiguousLength),
        ("10000001 m", TooLong),
    ],
)
def test_refused_lengths_say_why(text: str, error: type[LengthError]) -> None:
    with pytest.raises(error) as caught:
        parse_length(text, "mm")
    assert text[:20] in str(caught.value)


def test_an_unreadable_length_names_what_is_accepted() -> None:
    with pytest.raises(LengthError, match=r"120 mm, 12\.5 cm, 4\.75 in or 4 3/4 in"):
        parse_length("wide", "mm")


@pytest.mark.parametrize(
    ("mm", "unit", "shown"),
    [
        (120, "mm", "120 mm"),
        (125, "cm", "12.5 cm"),
        (120, "cm", "12 cm"),
        (120, "in", "4.72 in"),
        (0, "in", "0.00 in"),
    ],
)
def test_lengths_are_shown_in_the_unit(mm: int, unit: str, shown: str) -> None:
    assert show_length(mm, unit) == shown


def test_a_length_that_is_not_whole_keeps_its_decimals() -> None:
    assert parse_exact_length("1/4 in", "mm") == Decimal("6.35")
    assert show_length(Decimal("6.35"), "in") == "0.25 in"
    assert show_length(Decimal("6.2"), "mm") == "6.2 mm"


@given(st.integers(0, 10_000_000), st.sampled_from(SHOWN_UNITS))
def test_what_is_shown_is_read_back_as_the_same_millimetres(mm: int, unit: str) -> None:
    assert parse_length(length_figure(mm, unit), unit) == mm


@given(st.decimals(0, 10_000, places=3), st.sampled_from(SHOWN_UNITS))
def test_decimals_survive_showing_and_reading(mm: Decimal, unit: str) -> None:
    assert parse_exact_length(length_figure(mm, unit) + unit, unit) == mm


@given(
    st.text(alphabet=st.one_of(st.sampled_from("0123456789.,/ -'\"minctf¾″"), st.characters()), max_size=70)
)
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        assert parse_length(text, "in") >= 0
    except LengthError:
        return


@pytest.mark.parametrize(
    ("mm", "words"),
    [(120, "0.12 m"), (6000, "6 m"), (12_500, "12.5 m"), (999_999, "1000 m"), (1_000_000, "1 km"),
     (1_200_000, "1.2 km")],
)  # fmt: skip
def test_metres_show_a_slipped_point_at_once(mm, words):
    assert show_metres(mm) == words
