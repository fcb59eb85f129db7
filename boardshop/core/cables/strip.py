"""How far to strip a cable for a plug, as far as that can be said in general.

Lengths for soldered plugs on coaxial cable are common practice; the plug's own sheet goes first.
"""

from dataclasses import dataclass

from boardshop.core.plan import PlugType

type Span = tuple[int, int]
"""From and to, mm."""


@dataclass(frozen=True, slots=True)
class StripLengths:
    """Jacket and inner insulation come off; ``core`` is the bare end, ``shield`` is twisted and tinned."""

    jacket: Span = (12, 15)
    inner: Span = (8, 10)
    core: Span = (3, 4)
    shield: Span = (8, 10)


SOLDERED = StripLengths()
"""Basis: common practice."""

LAYER_MM = 5
"""So far back from the core comes a black conductive layer under the shield; common practice."""

COAXIAL = ("6.35 TS", "6.35 TRS", "3.5 mono", "3.5 TRS")
"""Connectors for which these lengths are said."""


@dataclass(frozen=True, slots=True)
class Strip:
    """``way`` is a key of ``STRIP_WAYS``; ``lengths`` only where they can be said."""

    way: str
    lengths: StripLengths | None = None


STRIP_WAYS = {
    "soldered": "jacket, inner, core and shield as given",
    "own sheet": "by the plug maker's sheet",
    "solderless": "by the plug maker's sheet; an end that was pierced once is cut off, never used again",
    "moulded": "cannot be fitted: it comes on its cable",
    "unknown": "the plug's fixing is not recorded",
    "no plug": "no plug is chosen",
}
"""What each way means."""


def strip_for(plug: PlugType | None) -> Strip:
    """How to strip the end that this plug goes on."""
    if plug is None:
        return Strip("no plug")
    if plug.fixing is None:
        return Strip("unknown")
    if plug.fixing == "soldered" and plug.connector in COAXIAL:
        return Strip("soldered", SOLDERED)
    return Strip(plug.fixing if plug.fixing in ("solderless", "moulded") else "own sheet")
