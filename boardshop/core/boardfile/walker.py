"""One walk over the document along the field tables: checks every value, and cleans what it can.

A faulty value becomes BAD, an absent or null one None.  What refers to a BAD value is not blamed for it.
"""

import math
import re
from datetime import date
from difflib import get_close_matches
from enum import Enum
from typing import Final, Literal

from boardshop.core.boardfile.faults import FaultList, Pointer
from boardshop.core.boardfile.reading import JsonObject
from boardshop.core.boardfile.shapes import (
    LARGEST,
    SMALLEST,
    Date,
    Decimal,
    Fixed,
    Flag,
    ListOf,
    Name,
    OneOrMany,
    Record,
    Ref,
    Shape,
    Whole,
    WholeOf,
    Word,
)


class Mark(Enum):
    BAD = "bad"


BAD: Final = Mark.BAD
type Bad = Literal[Mark.BAD]
type Cleaned = dict[str, object]

MOST_MEANT = 100
"""How many unknown keys are compared with the known ones: a file of nothing else must not take minutes."""
DATE = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)


class Walker:
    """Reads one value along its shape; faults go to ``faults``."""

    def __init__(self, faults: FaultList) -> None:
        self._faults = faults
        self._compared = 0

    def read(self, value: object, shape: Shape, at: Pointer) -> object:
        """The cleaned value: a faulty one is BAD, an object becomes a plain dict with every key there is."""
        match shape:
            case Record():
                return self._read_record(value, shape, at)
            case ListOf():
                return self._read_list(value, shape, at)
            case OneOrMany():
                several = isinstance(value, list)
                return self._read_list(value, shape, at) if several else self.read(value, shape.item, at)
            case Whole() | WholeOf():
                return self._read_whole(value, shape, at)
            case Decimal():
                return self._read_decimal(value, shape, at)
            case Flag():
                return value if isinstance(value, bool) else self._wrong_type(value, "true or false", at)
            case Fixed():
                return self._read_fixed(value, shape, at)
            case _:
                return self._read_text(value, shape, at)

    def _read_record(self, value: object, shape: Record, at: Pointer) -> Cleaned | Bad:
        if not isinstance(value, JsonObject):
            return self._wrong_type(value, "an object", at)
        for key in value.repeated:
            self._faults.add((*at, key), "is given more than once in one object")
        for key in value:
            if key not in shape.fields:
                self._faults.add((*at, key), f"is an unknown key{self._meant(key, shape)}")
        return {key: self._read_field(value, key, shape, at) for key in shape.fields}

    def _read_field(self, value: JsonObject, key: str, shape: Record, at: Pointer) -> object:
        if value.get(key) is not None:
            return self.read(value[key], shape.fields[key], (*at, key))
        if key not in shape.required:
            return None
        if key in value:
            return self._bad((*at, key), "must not be null: it is required")
        return self._bad((*at, key), "is missing: it is required")

    def _read_list(self, value: object, shape: ListOf | OneOrMany, at: Pointer) -> list[object] | Bad:
        if not isinstance(value, list):
            return self._wrong_type(value, "a list", at)
        if isinstance(shape, ListOf) and shape.length not in (None, len(value)):
            return self._bad(at, f"must have {shape.length} entries, not {len(value)}")
        if isinstance(shape, ListOf) and shape.most is not None and len(value) > shape.most:
            return self._bad(at, f"has {len(value):,} entries; at most {shape.most:,} are read")
        if isinstance(shape, OneOrMany) and not value and not isinstance(shape.item, Record):
            return self._bad(at, "must not be an empty list")
        return [
            None if item is None and shape.nulls else self.read(item, shape.item, (*at, number))
            for number, item in enumerate(value)
        ]

    def _read_whole(self, value: object, shape: Whole | WholeOf, at: Pointer) -> int | Bad:
        if not isinstance(value, int) or isinstance(value, bool):
            return self._wrong_type(value, "a whole number", at)
        if abs(value) > LARGEST:
            return self._bad(at, f"is beyond {LARGEST:,}")
        if isinstance(shape, WholeOf):
            allowed = ", ".join(map(str, shape.choices))
            return (
                value if value in shape.choices else self._bad(at, f"must be one of {allowed}, not {value}")
            )
        if value < shape.least:
            return self._bad(at, "must be above zero" if shape.least == 1 else "must not be negative")
        if value > shape.most:
            return self._bad(at, f"must be at most {shape.most}, not {value}")
        return value

    def _read_decimal(self, value: object, shape: Decimal, at: Pointer) -> float | Bad:
        if not isinstance(value, int | float) or isinstance(value, bool):
            return self._wrong_type(value, "a number", at)
        if not math.isfinite(value):
            return self._bad(at, "must be a finite number")
        if value < 0:
            return self._bad(at, "must be above zero" if shape.above_zero else "must not be negative")
        if value > LARGEST:
            return self._bad(at, f"is beyond {LARGEST:,}")
        if value == 0 and shape.above_zero:
            return self._bad(at, "must be above zero")
        if 0 < value < SMALLEST:
            return self._bad(at, f"is nearer to zero than {SMALLEST:.9f} and not zero")
        return float(value) + 0.0

    def _read_fixed(self, value: object, shape: Fixed, at: Pointer) -> object:
        if type(value) is type(shape.value) and value == shape.value:
            return value
        wanted = f'"{shape.value}"' if isinstance(shape.value, str) else str(shape.value)
        return self._bad(at, f"must be {wanted}")

    def _read_text(self, value: object, shape: Shape, at: Pointer) -> str | Bad:
        if not isinstance(value, str):
            return self._wrong_type(value, "text", at)
        if "\0" in value or not _is_unicode(value):
            return self._bad(at, "holds a NUL or half a surrogate pair, which cannot be stored")
        match shape:
            case Word() if value not in shape.choices:
                return self._bad(at, f"must be one of {', '.join(shape.choices)}, not {shown(value)}")
            case Name() if not value.strip():
                return self._bad(at, "must not be blank")
            case Date() if not _is_date(value):
                return self._bad(at, f"must be a date as 2026-01-31, not {shown(value)}")
            case Ref() if not is_ref(value):
                self._faults.add(at, f"must be letters and digits only, not {shown(value)}")
                # Kept: what refers to this spelling is not dangling.
                return value
            case _:
                return value

    def _meant(self, key: str, shape: Record) -> str:
        self._compared += 1
        near = get_close_matches(key, shape.fields, n=1) if self._compared <= MOST_MEANT else []
        return f'; "{near[0]}" may be meant' if near else ""

    def _wrong_type(self, value: object, wanted: str, at: Pointer) -> Bad:
        if isinstance(value, float) and not math.isfinite(value):
            return self._bad(at, "must be a finite number")
        return self._bad(at, f"must be {wanted}, not {shown(value)}")

    def _bad(self, at: Pointer, message: str) -> Bad:
        self._faults.add(at, message)
        return BAD


def is_ref(text: str) -> bool:
    """Letters and digits of any script, at least one."""
    return bool(text) and all(c.isalpha() or c.isdecimal() for c in text)


def shown(value: object) -> str:
    """A value as a message names it: JSON, shortened; lists and objects by their type."""
    match value:
        case None:
            return "null"
        case bool():
            return "true" if value else "false"
        case str():
            return f'"{value}"' if len(value) <= 40 else f'"{value[:40]}..."'
        case int() | float():
            return str(value)
        case list():
            return "a list"
        case _:
            return "an object"


def _is_unicode(text: str) -> bool:
    return not any("\ud800" <= c <= "\udfff" for c in text)


def _is_date(text: str) -> bool:
    if DATE.fullmatch(text) is None:
        return False
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True
