"""The shapes a value of a board file can have; the field tables are made of these."""

from collections.abc import Mapping
from dataclasses import dataclass, field

LARGEST = 1_000_000_000
"""Board-file format: whole numbers beyond this are refused; decimals are held to the same."""

SMALLEST = 1e-9
"""A decimal nearer to zero than this, and not zero, is no measured value; it would overflow as a divisor."""


MOST_MEETING = 1_000
"""Limit of this program: entries of a list whose members are judged against each other, pair by pair.

No board has a tenth of it; 10,000 pedals in one heap would make 50 million findings.
"""


@dataclass(frozen=True, slots=True)
class Text:
    """Any text that can be stored: no NUL, no half of a surrogate pair."""


@dataclass(frozen=True, slots=True)
class Name:
    """Text that is not blank."""


@dataclass(frozen=True, slots=True)
class Ref:
    """What a thing is called in the document: letters and digits."""


@dataclass(frozen=True, slots=True)
class Date:
    """An ISO 8601 calendar date."""


@dataclass(frozen=True, slots=True)
class Word:
    """One of a closed list."""

    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Whole:
    """A JSON integer: neither 73.5 nor 73.0 nor true."""

    least: int = -LARGEST
    most: int = LARGEST


@dataclass(frozen=True, slots=True)
class WholeOf:
    """One of a closed list of JSON integers."""

    choices: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Decimal:
    """Any finite JSON number; above zero or at least zero."""

    above_zero: bool = False


@dataclass(frozen=True, slots=True)
class Flag:
    """true or false."""


@dataclass(frozen=True, slots=True)
class Fixed:
    """The one value allowed here."""

    value: str | int


@dataclass(frozen=True, slots=True)
class ListOf:
    item: "Shape"
    nulls: bool = False
    length: int | None = None
    most: int | None = None


@dataclass(frozen=True, slots=True)
class OneOrMany:
    """A value, or a list of such."""

    item: "Shape"
    nulls: bool = False


@dataclass(frozen=True, slots=True)
class Record:
    """An object: its keys in the format's order, what it makes, and which fields are called otherwise there.

    ``required`` keys are refused when missing.  Without its ``needed`` keys a thing is kept but cannot be
    used: it is unknown as a whole.
    """

    makes: type
    fields: Mapping[str, "Shape"]
    required: tuple[str, ...] = ()
    needed: tuple[str, ...] = ()
    renamed: Mapping[str, str] = field(default_factory=dict)

    def field_for(self, key: str) -> str:
        return self.renamed.get(key, key)


type Shape = (
    Text | Name | Ref | Date | Word | Whole | WholeOf | Decimal | Flag | Fixed | ListOf | OneOrMany | Record
)
