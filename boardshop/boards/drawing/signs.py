"""What a comparison marks, by letter: from the differences of two plans to signs at parts and a key."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.translation import gettext as _

from boardshop.core.diff import Difference
from boardshop.core.index import fold, split_end
from boardshop.core.plan import BoardPlan

NEW, MOVED, GONE, EXCHANGED, WIRED, FED, CUT = "N", "M", "G", "E", "W", "F", "C"
LETTERS = NEW + MOVED + GONE + EXCHANGED + WIRED + FED + CUT
"""In the order in which they stand at a part and in the key."""

_LETTER_OF = {"added": NEW, "moved": MOVED, "exchanged": EXCHANGED, "re-wired": WIRED, "re-fed": FED}


def find_signs(before: BoardPlan, after: BoardPlan, differences: Sequence[Difference]) -> dict[str, str]:
    """Letters by the folded ref of a part of the later plan; a cable's are those of the parts at its ends.

    What is new has no other sign: all of it is new.
    """
    ends = {fold(link.ref): (link.source, link.target) for link in (*before.links, *after.links)}
    parts = {fold(pedal.ref) for pedal in after.pedals} | {fold(supply.ref) for supply in after.supplies}
    found: dict[str, set[str]] = {}
    for one in differences:
        for subject in one.subjects:
            joined = ends.get(fold(subject))
            letter = WIRED if joined else _LETTER_OF.get(one.kind)
            for end in joined or (subject,):
                ref = fold(split_end(end)[0])
                if letter and ref in parts:
                    found.setdefault(ref, set()).add(letter)
    return {
        ref: NEW if NEW in letters else "".join(one for one in LETTERS if one in letters)
        for ref, letters in found.items()
    }


def explain(letter: str) -> str:
    """What the key says of a letter."""
    return {
        NEW: _("new, double outline"),
        MOVED: _("moved; its place before is dashed"),
        GONE: _("gone, dashed"),
        EXCHANGED: _("exchanged for another"),
        WIRED: _("wired otherwise"),
        FED: _("fed otherwise"),
        CUT: _("to be cut otherwise: before › now"),
    }[letter]
