"""One difference between two plans, as somebody is told of it."""

from __future__ import annotations

from dataclasses import dataclass

KINDS = (
    "added",
    "removed",
    "exchanged",
    "renamed",
    "moved",
    "re-wired",
    "re-fed",
    "re-cut",
    "set",
    "frame",
    "board",
    "kept",
    "gear",
    "stock",
)
"""In the order in which they are told: what is there, where, how it is joined, fed and cut, then the rest."""


@dataclass(frozen=True, slots=True)
class Difference:
    """``kind`` is one of KINDS; ``subjects`` are refs, of the later plan where it has them; lengths in mm."""

    kind: str
    subjects: tuple[str, ...]
    sentence: str
