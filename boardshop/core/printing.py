"""How a computed value is printed: one rounding rule and one way from section values to JSON.

Basis: the board-file format prints dB with 3 decimals, Hz and percents with 1, ohm with 4, all else as whole
numbers, rounded half up.
"""

from dataclasses import fields, is_dataclass
from decimal import ROUND_HALF_UP, Decimal

UNPRINTED = {"is_unprinted": True}
"""Metadata of a section's field that pages read and the report, whose keys are fixed, leaves out."""

type Json = None | bool | int | float | str | list[Json] | dict[str, Json]


def round_whole(value: float) -> int:
    """To a whole number, half away from zero."""
    return int(Decimal(repr(value)).quantize(Decimal(1), rounding=ROUND_HALF_UP))


def round_to(value: float, decimals: int) -> float:
    """To so many decimals, half away from zero; never a negative zero."""
    rounded = Decimal(repr(value)).quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_UP)
    return float(rounded) + 0.0


def round_db(value: float) -> float:
    return round_to(value, 3)


def round_hz(value: float) -> float:
    return round_to(value, 1)


def round_ohm(value: float) -> float:
    return round_to(value, 4)


def round_percent(value: float) -> float:
    return round_to(value, 1)


def as_json(value: object) -> Json:
    """A section value as JSON: dataclass fields become keys in their order, a trailing `_` is dropped."""
    if value is None or isinstance(value, bool | int | float | str):
        return value
    if is_dataclass(value) and not isinstance(value, type):
        printed = (f for f in fields(value) if f.metadata != UNPRINTED)
        return {f.name.rstrip("_"): as_json(getattr(value, f.name)) for f in printed}
    if isinstance(value, dict):
        return {str(key): as_json(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [as_json(item) for item in value]
    raise TypeError(f"{type(value).__name__} has no JSON form")
