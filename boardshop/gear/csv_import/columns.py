"""Columns of a table of gear: their names, how a cell is read and shown, what is said about them."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from boardshop.core.lengths import LengthError, parse_exact_length, parse_length
from boardshop.crew.plain_text import refuse_direction_signs
from boardshop.gear import amounts
from boardshop.gear.notation.scanning import NotationError
from boardshop.gear.notation.words import LISTS

type Read = Callable[[str, str], Any]
"""The cell's text and the unit of bare lengths -> the value; None where the cell says unknown."""

UNIT_WORDS = (
    *("mm", "cm", "in", "inch", "inches", "v", "mv", "volt", "volts", "ma", "a", "g", "kg", "oz", "lb"),
    *("pf", "pf/m", "pf/ft", "ohm", "ohms", "kohm", "ms", "w", "mw", "mm2"),
)
LENGTH_UNITS = {"mm": "mm", "cm": "cm", "in": "in", "inch": "in", "inches": "in"}
_BARE = re.compile(rf"{amounts.FIGURE}|[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+")


class CellError(ValueError):
    """A cell that cannot be taken; the text names what is accepted."""


@dataclass(frozen=True)
class Column:
    """`name` is the record's field; `heading` what export writes, with the unit of its bare numbers."""

    name: str
    heading: str
    read: Read
    show: Callable[[Any], str]
    says: Any
    example: str = ""
    synonyms: tuple[str, ...] = ()
    needed: bool = False
    words: str = ""
    """The closed list, for a column that holds one of its words."""

    def value(self, text: str, unit: str) -> Any:
        """Raises CellError."""
        try:
            refuse_direction_signs(text)
            return self.read(text, unit)
        except ValidationError as error:
            raise CellError(error.messages[0]) from error
        except (LengthError, amounts.AmountError, NotationError) as error:
            raise CellError(str(error)) from error


@dataclass(frozen=True)
class Heading:
    """A column of ours found in a file, and the unit that its heading gives to bare numbers."""

    column: Column
    unit: str

    def value(self, text: str, shop_unit: str) -> Any:
        if self.unit and _BARE.fullmatch(text):
            text = f"{text} {self.unit}"
        return self.column.value(text, LENGTH_UNITS.get(self.unit, shop_unit))


def find_headings(headings: Sequence[str], columns: Sequence[Column]) -> dict[int, Heading]:
    """Which of our columns stands where; headings that are none of ours are left out."""
    table = {
        _plain(word): column for column in columns for word in (column.heading, column.name, *column.synonyms)
    }
    found = {}
    for place, heading in enumerate(headings):
        plain = _plain(heading)
        words = plain.rsplit(" ", 1)
        unit = words[1] if len(words) == 2 and words[1] in UNIT_WORDS else ""
        column = table.get(plain) or table.get(words[0] if unit else plain)
        if column is not None:
            found[place] = Heading(column, unit)
    return found


def _plain(heading: str) -> str:
    """`Width [mm]`, `width_mm` and `WIDTH (mm):` are the same heading."""
    return " ".join(re.sub(r"[^\w/#]+|_+", " ", heading.lower()).split())


def shown(value: Any) -> str:
    return "" if value is None else str(value)


def known(read: Callable[[str], Any]) -> Read:
    """A reader for text that says something; unknown gives None."""
    return lambda text, unit: None if amounts.is_unknown(text) else read(text)


def length(name: str, heading: str, says: Any, *, zero: bool = False, **options: Any) -> Column:
    """A length; `heading` is without its unit, which is mm on export."""

    def read(text: str, unit: str) -> int | None:
        if amounts.is_unknown(text):
            return None
        mm = parse_length(text, unit)
        if not mm and not zero:
            raise CellError(_("A size must be above zero; leave it blank if nobody measured it."))
        return mm

    return Column(name, f"{heading} mm", read, shown, says, **({"example": "120"} | options))


def exact_length(name: str, heading: str, says: Any, **options: Any) -> Column:
    def read(text: str, unit: str) -> Decimal | None:
        return None if amounts.is_unknown(text) else amounts.trimmed(parse_exact_length(text, unit))

    return Column(name, f"{heading} mm", read, shown, says, **options)


def amount(
    name: str,
    heading: str,
    read: Callable[[str], Any],
    says: Any,
    *,
    show: Callable[[Any], str] = str,
    **options: Any,
) -> Column:
    return Column(name, heading, known(read), lambda v: "" if v is None else show(v), says, **options)


def word(name: str, heading: str, listed: str, says: Any, **options: Any) -> Column:
    """One word of a closed list."""
    words = LISTS[listed]

    def read(text: str, unit: str) -> str:
        found = words.find(text)
        if found is None and not amounts.is_unknown(text):
            raise CellError(
                _("“%(text)s” is not on the list: %(words)s") % {"text": text[:40], "words": words}
            )
        return found or ""

    options.setdefault("example", words.allowed[0])
    return Column(name, heading, read, shown, says, words=str(words), **options)


def flag(name: str, heading: str, says: Any, **options: Any) -> Column:
    return Column(name, heading, known(amounts.parse_flag), show_flag, says, **options)


def show_flag(value: bool | None) -> str:
    return {None: "", True: "yes", False: "no"}[value]


def text(name: str, heading: str, most: int, says: Any, **options: Any) -> Column:
    def read(cell: str, unit: str) -> str:
        cell = as_lines(cell)
        if len(cell) > most:
            raise CellError(_("longer than %(most)s signs; shorten it") % {"most": most})
        return cell

    return Column(name, heading, read, as_lines, says, **options)


def as_lines(value: str) -> str:
    """Without blanks around it, and with one kind of line end."""
    return value.replace("\r\n", "\n").replace("\r", "\n").strip()


def notation(
    name: str,
    heading: str,
    read: Callable[[str, str], Any],
    show: Callable[[Any], str],
    says: Any,
    **options: Any,
) -> Column:
    """A cell of the compact notation; blank and `none` say that there are none."""
    return Column(
        name,
        heading,
        lambda text, unit: () if amounts.is_unknown(text) or text.lower() == "none" else read(text, unit),
        show,
        says,
        **options,
    )
