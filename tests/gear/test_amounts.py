"""Amounts as technicians type them; spellings are common practice, conversions name their basis."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardshop.gear import amounts


@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (amounts.parse_volts, "9", 9000),
        (amounts.parse_volts, "9.0 V", 9000),
        (amounts.parse_volts, "9,6", 9600),
        (amounts.parse_volts, "9000 mV", 9000),
        (amounts.parse_volts, "18volts", 18_000),
        (amounts.parse_volts, "1000", 1_000_000),
        (amounts.parse_milliamps, "100mA", 100),
        (amounts.parse_milliamps, "0.5 A", 500),
        (amounts.parse_milliamps, "4.5", 5),
        (amounts.parse_milliamps, "1.2", 1),
        (amounts.parse_milliamps, "1.200 A", 1200),
        (amounts.parse_milliamps, "0", 0),
        (amounts.parse_grams, "0,31 kg", 310),
        (amounts.parse_grams, "11 oz", 312),  # 16 oz = 1 lb = 453.59237 g exactly (1959): 311.84
        (amounts.parse_grams, "1 lb", 454),
        (amounts.parse_ohms, "1M", 1_000_000),
        (amounts.parse_ohms, "4.7k", 4700),
        (amounts.parse_ohms, "500 kΩ", 500_000),
        # IEC 60062: the letter stands in the place of the decimal sign
        (amounts.parse_ohms, "8k2", 8200),
        (amounts.parse_ohms, "8K2 ohm", 8200),
        (amounts.parse_ohms, "4R7", 5),
        (amounts.parse_ohms, "1M5", 1_500_000),
        (amounts.parse_ohms, "M47", 470_000),
        (amounts.parse_milliwatts, "36.5", 36_500),
        (amounts.parse_picofarads, "1 nF", 1000),
        (amounts.parse_pf_per_m, "30 pF/ft", 98),  # 1 ft = 0.3048 m exactly: 98.43
        (amounts.parse_milliseconds, "1.5 ms", Decimal("1.5")),
        (amounts.parse_price, "EUR 1,20", Decimal("1.2")),
        (amounts.parse_price, "$2", Decimal(2)),
        (amounts.parse_whole, " 4 ", 4),
        (amounts.parse_flag, "X", True),
        (amounts.parse_flag, "No", False),
    ],
)
def test_amounts_as_typed(read: Callable[[str], Any], text: str, value: object) -> None:
    assert read(text) == value


@pytest.mark.parametrize(
    ("read", "text", "says"),
    [
        (amounts.parse_volts, "nine", "9.6 V or 9000 mV"),
        (amounts.parse_volts, "1001", "9 for nine volts"),
        (amounts.parse_volts, "9.0001", "finer than a millivolt"),
        (amounts.parse_volts, "-9", "no voltage"),
        (amounts.parse_milliamps, "9V", "100 mA"),
        (amounts.parse_grams, "1 stone", "0.31 kg"),
        (amounts.parse_milliamps, "10000000 A", "slipped point"),
        (amounts.parse_milliamps, "0.3", "write 300 mA or 0.3 A, or 1 mA"),
        (amounts.parse_milliamps, "0,3", "write 300 mA or 0.3 A"),
        (amounts.parse_milliamps, "0.012", "write 12 mA or 0.012 A"),
        (amounts.parse_milliamps, ".7 mA", "write 700 mA or 0.7 A"),
        (amounts.parse_milliamps, "0.0003 A", "whole mA are kept; write 1 mA"),
        (amounts.parse_milliamps, "1,200", "write 1200 or 1.2"),
        (amounts.parse_milliamps, "1.200mA", "write 1200 or 1.2"),
        (amounts.parse_milliamps, "12.345", "write 12345 or 12.3"),
        # In IEC 60062 a small m is a thousandth, elsewhere often a million: which, nobody can tell.
        (amounts.parse_ohms, "1m5", "8k2 or 470 ohm"),
        (amounts.parse_whole, "1.5", "digits only"),
        (amounts.parse_flag, "maybe", "neither yes nor no"),
    ],
)
def test_what_is_no_amount_says_what_is_accepted(read: Callable[[str], Any], text: str, says: str) -> None:
    with pytest.raises(amounts.AmountError, match=says):
        read(text)


@given(st.integers(0, 999_999))
def test_volts_are_shown_as_they_are_read(mv: int) -> None:
    assert amounts.parse_volts(amounts.volts_text(mv)) == mv


READERS = [value for name, value in vars(amounts).items() if name.startswith("parse_")]


@pytest.mark.parametrize("read", READERS)
@given(text=st.text(max_size=20) | st.from_regex(r"\A[0-9.,]{1,12} ?[a-zA-Zµ/%]{0,5}\Z"))
def test_any_text_is_read_or_refused(read: Callable[[str], Any], text: str) -> None:
    try:
        read(text)
    except amounts.AmountError:
        return
