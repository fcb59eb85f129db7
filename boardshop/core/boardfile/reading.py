"""From bytes to JSON values, refusing what JSON in UTF-8 does not allow (RFC 8259)."""

import json

from boardshop.core.boardfile.faults import Fault, RefusedBoardFile

BYTE_ORDER_MARK = "\ufeff"
LONGEST_NUMBER = 20
FAR_BEYOND = 100_000_000_000_000_000_000
"""Stands for every whole number with more digits: they are not worked out, and beyond every limit."""


class JsonObject(dict[str, object]):
    """A JSON object that remembers which keys it was given more than once."""

    def __init__(self, pairs: list[tuple[str, object]]) -> None:
        super().__init__(pairs)
        seen: set[str] = set()
        again: dict[str, None] = {}
        for key, _ in pairs:
            if key in seen:
                again[key] = None
            seen.add(key)
        self.repeated = tuple(again)


def read_json(text: bytes | str) -> object:
    """The document's value; raises RefusedBoardFile for what is no JSON text in UTF-8.

    A byte order mark at the start is ignored, as RFC 8259 section 8.1 lets a reader do.  NaN, Infinity and
    numbers too large for a float come back as such floats: the walker refuses them where they stand.
    """
    try:
        decoded = text if isinstance(text, str) else text.decode("utf-8")
        value: object = json.loads(
            decoded.removeprefix(BYTE_ORDER_MARK), object_pairs_hook=JsonObject, parse_int=_read_whole
        )
        return value
    except UnicodeDecodeError as error:
        raise _refuse(f"is no text in UTF-8: byte {error.start} cannot be read") from error
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise _refuse(f"is no JSON: {error.msg.lower()} at {place}") from error
    except RecursionError as error:
        raise _refuse("is nested too deeply to be a board file") from error


def _read_whole(digits: str) -> int:
    if len(digits) > LONGEST_NUMBER:
        return -FAR_BEYOND if digits.startswith("-") else FAR_BEYOND
    return int(digits)


def _refuse(message: str) -> RefusedBoardFile:
    return RefusedBoardFile((Fault("", f"the text {message}"),))
