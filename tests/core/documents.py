"""A board file that uses every key of version 1 once: what the loader's and the report's tests change."""

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from boardshop.core.boardfile import load_plan_text
from boardshop.core.plan import BoardPlan

type Document = dict[str, Any]
type Keys = tuple[str | int, ...]

FULL: Document = json.loads((Path(__file__).parent / "boards" / "full.json").read_text("utf-8"))


def full_document() -> Document:
    return copy.deepcopy(FULL)


def small_document(**keys: Any) -> Document:
    """Only what is required, and what the test gives."""
    return {"format": "boardshop-board", "version": 1, "frame": {"width": 600, "depth": 320}} | keys


def load(document: object) -> BoardPlan:
    return load_plan_text(json.dumps(document))


def changed(keys: Keys, value: object) -> Document:
    """The full document with another value at these keys; a new key or list entry where there is none."""
    return edited(keys, lambda owner, key: _put(owner, key, value))


def without(keys: Keys) -> Document:
    return edited(keys, lambda owner, key: owner.pop(key))


def edited(keys: Keys, edit: Callable[[Any, Any], object]) -> Document:
    document: Any = full_document()
    owner = document
    for token in keys[:-1]:
        owner = owner[token]
    edit(owner, keys[-1])
    return document


def value_at(document: Any, pointer: str) -> object:
    """What a JSON pointer names, after RFC 6901; KeyError or IndexError where there is nothing."""
    value = document
    for token in pointer.split("/")[1:]:
        key = token.replace("~1", "/").replace("~0", "~")
        value = value[int(key)] if isinstance(value, list) else value[key]
    return value


def _put(owner: Any, key: Any, value: object) -> None:
    if isinstance(owner, list) and key == len(owner):
        owner.append(value)
    else:
        owner[key] = value
