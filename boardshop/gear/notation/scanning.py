"""Reading a compact cell: pieces parted by `;`, `|` or line ends, each a row of facts in any order.

A name or a text with such a sign in it stands in double quotes, doubled inside, at the start of a piece
or after a colon, `by` or `group`.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from boardshop.core.lengths import LengthError, length_figure, parse_length
from boardshop.gear.amounts import AmountError
from boardshop.gear.notation.words import WordList

QUOTED = r'"(?:[^"]|"")*"'
# Elsewhere a double quote is the inch sign.
_OPENS_QUOTES = r"(?::\s*|\b(?:by|group)\s+)"
_PIECE = re.compile(rf"\s*(?:{QUOTED})?(?:{_OPENS_QUOTES}{QUOTED}|[^;|\n])*", re.IGNORECASE)
_BETWEEN = re.compile(r"(?:[\s,()]|\bor\b|\band\b|/(?=\s))*", re.IGNORECASE)
_NEEDS_QUOTES = re.compile(r'[;|:,"\s]')
LENGTH = (
    r"(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]*[.,]?[0-9]+)"
    r"(?:\s*(?:mm|cm|inches|inch|in|ft|m)(?!\w)|\s*(?:\"|″|')|(?![\w/.]))"
)
MOST_PIECES = 200


class NotationError(ValueError):
    """A cell that cannot be read; the text says where and what is accepted."""


@dataclass(frozen=True)
class Fact:
    """One kind of fact: the name it is stored under, how it looks, and how its text is read.

    `may_repeat` collects every value in a list.
    """

    key: str
    pattern: re.Pattern[str]
    read: Callable[[str], Any]
    may_repeat: bool = False


def fact(key: str, pattern: str, read: Callable[[str], Any], *, may_repeat: bool = False) -> Fact:
    """`pattern` has a group `value` when not all of the match is the value."""
    return Fact(key, re.compile(pattern, re.IGNORECASE), read, may_repeat)


def show_bare(mm: int, unit: str) -> str:
    """A length in a compact cell: `20mm`, `0.79in`."""
    return f"{length_figure(mm, unit)}{unit}"


def word_fact(key: str, words: WordList, before: str = "") -> Fact:
    return fact(key, rf"{before}(?P<value>{words.pattern})", lambda text: words.find(text))


def length_fact(key: str, unit: str, before: str = "") -> Fact:
    return fact(key, rf"{before}(?P<value>{LENGTH})", lambda text: parse_length(text, unit))


def yes_no_fact(key: str, words: str) -> Fact:
    """`starve yes`, `starve no`; the bare word means yes."""
    pattern = rf"(?:{words})(?:[\s:=]+(?P<value>yes|no))?(?!\w)"
    return fact(key, pattern, lambda text: text.lower() != "no")


def pieces_of(text: str) -> list[str]:
    """The pieces of a cell, without blank ones."""
    found, at = [], 0
    while at < len(text):
        match = _PIECE.match(text, at)
        end = match.end() if match else at
        found.append(text[at:end].strip())
        at = end + 1
    kept = [piece for piece in found if piece]
    if len(kept) > MOST_PIECES:
        raise NotationError(_("More than %(most)s pieces stand in one cell.") % {"most": MOST_PIECES})
    return kept


def take_quoted(piece: str) -> tuple[str, str] | None:
    """The text in the quotes that open the piece, and what follows; None when no quotes open it."""
    match = re.match(QUOTED, piece)
    return (match[0][1:-1].replace('""', '"'), piece[match.end() :]) if match else None


def quoted(text: str) -> str:
    """The text, in quotes where it could be misread."""
    return '"' + text.replace('"', '""') + '"' if _NEEDS_QUOTES.search(text) or not text else text


def read_facts(text: str, facts: Sequence[Fact], accepted: str) -> dict[str, Any]:
    """Every fact of the piece under its key.

    Raises NotationError for what is no fact (`accepted` names those that are) and for a fact given twice.
    """
    found: dict[str, Any] = {}
    at = _skip(text, 0)
    while at < len(text):
        match, kind = _longest(text, at, facts)
        if match is None or kind is None:
            word = re.split(r"[\s,;]", text[at:], maxsplit=1)[0][:40]
            raise NotationError(
                _("“%(word)s” is not understood here; %(accepted)s") % {"word": word, "accepted": accepted}
            )
        value = _read(kind, match, text)
        if kind.may_repeat:
            found.setdefault(kind.key, []).append(value)
        elif kind.key in found:
            raise NotationError(
                _("“%(word)s” says the same a second time; write it once.") % {"word": match[0]}
            )
        else:
            found[kind.key] = value
        at = _skip(text, match.end())
    return found


def read_length(text: str, unit: str) -> int:
    """Whole mm; raises NotationError."""
    try:
        return parse_length(text, unit)
    except LengthError as error:
        raise NotationError(str(error)) from error


def _read(kind: Fact, match: re.Match[str], text: str) -> Any:
    try:
        return kind.read(match.groupdict().get("value", match[0]) or "")
    except (LengthError, AmountError) as error:
        raise NotationError(str(error)) from error


def _longest(text: str, at: int, facts: Sequence[Fact]) -> tuple[re.Match[str] | None, Fact | None]:
    best: tuple[re.Match[str] | None, Fact | None] = (None, None)
    for kind in facts:
        match = kind.pattern.match(text, at)
        if match and match.end() > (best[0].end() if best[0] else at):
            best = (match, kind)
    return best


def _skip(text: str, at: int) -> int:
    match = _BETWEEN.match(text, at)
    return match.end() if match else at
