"""A board by brute force: what it must be after a list of edits, by none of the product's code.

Everything that an edit can touch is one key with one value; None is nothing there.  Undo and redo follow the
rule that a person reads: one's own last change goes back unless somebody changed the same afterwards, and
what was undone last comes back first, until one edits again.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

type Key = tuple[str, str]
type Values = dict[Key, Any]
UNDO, REDO = ("undo", ""), ("redo", "")


class Refused(Exception):
    """The replay says that this edit is not to be had on this state; the text is part of the sentence."""


@dataclass
class Own:
    """One edit of a person: each key that it touched, with the values before and after."""

    number: int
    touched: dict[Key, tuple[Any, Any]]
    is_undone: bool = False


@dataclass
class Replay:
    values: Values
    number: int = 0
    own: dict[str, list[Own]] = field(default_factory=dict)
    ahead: dict[str, list[Own]] = field(default_factory=dict)
    """What each person undid since their last edit and has not done again, the last one last."""

    def apply(self, who: str, typed: Values) -> bool:
        """Whether it is an edit at all; the same values again are none.  Raises Refused."""
        if UNDO in typed or REDO in typed:
            self._turn(who, is_back=UNDO in typed)
            return True
        touched = {k: (self.values.get(k), v) for k, v in typed.items() if self.values.get(k) != v}
        self._check_inputs(touched)
        if touched:
            self._keep({key: after for key, (_before, after) in touched.items()})
            self.own.setdefault(who, []).append(Own(self.number, touched))
            self.ahead[who] = []
        return bool(touched)

    def _turn(self, who: str, *, is_back: bool) -> None:
        standing = [one for one in self.own.get(who, []) if not one.is_undone]
        ahead = self.ahead.setdefault(who, [])
        found = standing[-1:] if is_back else ahead[-1:]
        if not found:
            raise Refused("There is no change of yours")
        left, target = (1, 0) if is_back else (0, 1)
        for key, pair in found[0].touched.items():
            if self.values.get(key) != pair[left]:
                is_taken = key[0] == "feed" and pair[left] is None
                raise Refused("already has a feed" if is_taken else "stands in the way")
        goal = {key: pair[target] for key, pair in found[0].touched.items()}
        self._check_inputs({key: (None, value) for key, value in goal.items()})
        self._keep(goal)
        found[0].is_undone = is_back
        if is_back:
            ahead.append(found[0])
        else:
            ahead.pop()

    def _check_inputs(self, touched: dict[Key, tuple[Any, Any]]) -> None:
        """One input takes one plug."""
        for key, (_before, value) in touched.items():
            if key[0] == "link" and value and value[1] in self.inputs():
                raise Refused("already has a link")

    def _keep(self, values: Values) -> None:
        self.values |= values
        self.number += 1

    def inputs(self) -> set[str]:
        return {value[1] for key, value in self.values.items() if key[0] == "link" and value}

    def standing(self) -> Values:
        """What is there, without the marks that tell one feed from the next on the same outlet."""
        kept = {key: value for key, value in self.values.items() if value is not None}
        return {key: value[0] if key[0] == "feed" else value for key, value in kept.items()}
