"""Rails, tiers, what is kept free and measured draws in one cell each.

`20mm to 90mm; 110mm to 180mm`, `0mm to 150mm height 0mm`, `100mm x 50mm at x 10mm y 20mm: handle`,
`DC 98mA on 2026-03-01 by Jo`.
"""

import re
from collections.abc import Callable
from datetime import date

from django.utils.translation import gettext as _

from boardshop.core import plan as core
from boardshop.gear.amounts import AmountError, parse_milliamps
from boardshop.gear.notation.jacks import take_name
from boardshop.gear.notation.power import AMPS
from boardshop.gear.notation.scanning import (
    LENGTH,
    NotationError,
    pieces_of,
    quoted,
    read_length,
    show_bare,
    take_quoted,
)
from boardshop.gear.records import Draw

USUAL_RAILS = (core.Rail(20, 90), core.Rail(110, 180))
USUAL_TIERS = (core.Tier(0, 150, 0), core.Tier(150, 300, 40))
USUAL_KEEPOUTS = (core.Keepout(10, 20, 100, 50, "handle"),)
USUAL_MEMBERS = (core.Member(0, 150, 600, 20, "crossbar"),)
"""Examples, written in the unit of whoever reads them."""

_TO = r"\s*(?:-|–|\.\.|to)\s*"
_BAND = re.compile(
    rf"(?:from\s+)?(?P<low>{LENGTH}){_TO}(?P<high>{LENGTH})(?:[\s,]*(?:at\s+)?(?:height|high)[\s:]*(?P<height>{LENGTH}))?",
    re.IGNORECASE,
)
_BOX = re.compile(
    rf"(?P<width>{LENGTH})\s*[x×]\s*(?P<depth>{LENGTH})[\s,]*at\s+"
    rf"(?:x[\s:=]*)?(?P<x>{LENGTH})(?:\s*[,/]\s+|\s+)(?:y[\s:=]*)?(?P<y>{LENGTH})\s*(?::\s*(?P<why>.*))?",
    re.IGNORECASE | re.DOTALL,
)
_DRAW = re.compile(
    rf"\s*:?\s*(?P<measured>{AMPS}|[0-9]+)(?:\s+on\s+(?P<on>[0-9]{{4}}-[0-9]{{2}}-[0-9]{{2}}))?(?:\s+by\s+(?P<by>.+))?",
    re.IGNORECASE | re.DOTALL,
)


def read_rails(text: str, unit: str) -> tuple[core.Rail, ...]:
    return tuple(core.Rail(low, high) for low, high, _height in _bands(text, unit, with_height=False))


def show_rails(rails: tuple[core.Rail, ...], unit: str = "mm") -> str:
    return "; ".join(_show_band(rail, unit) for rail in rails)


def read_tiers(text: str, unit: str) -> tuple[core.Tier, ...]:
    return tuple(core.Tier(*band) for band in _bands(text, unit, with_height=True))


def show_tiers(tiers: tuple[core.Tier, ...], unit: str = "mm") -> str:
    return "; ".join(f"{_show_band(tier, unit)} height {show_bare(tier.height, unit)}" for tier in tiers)


def read_keepouts(text: str, unit: str) -> tuple[core.Keepout, ...]:
    return tuple(core.Keepout(*_box(piece, unit, _no_keepout)) for piece in pieces_of(text))


def show_keepouts(keepouts: tuple[core.Keepout, ...], unit: str = "mm") -> str:
    return "; ".join(_show_box(box, unit) for box in keepouts)


def read_members(text: str, unit: str) -> tuple[core.Member, ...]:
    return tuple(core.Member(*_box(piece, unit, _no_member)) for piece in pieces_of(text))


def show_members(members: tuple[core.Member, ...], unit: str = "mm") -> str:
    return "; ".join(_show_box(member, unit) for member in members)


def read_draws(text: str) -> tuple[Draw, ...]:
    return tuple(_draw(piece) for piece in pieces_of(text))


def show_draws(draws: tuple[Draw, ...]) -> str:
    return "; ".join(_draw_text(draw) for draw in draws)


def _show_band(band: core.Rail | core.Tier, unit: str) -> str:
    return f"{show_bare(band.from_y, unit)} to {show_bare(band.to_y, unit)}"


def _bands(text: str, unit: str, *, with_height: bool) -> list[tuple[int, int, int]]:
    found = []
    for piece in pieces_of(text):
        match = _BAND.fullmatch(piece)
        if match is None or (match["height"] and not with_height):
            tiers, rails = show_tiers(USUAL_TIERS[:1], unit), show_rails(USUAL_RAILS[:1], unit)
            example = tiers if with_height else rails
            raise NotationError(
                _(
                    "“%(piece)s” is no band; write where it starts and ends "
                    "from the front edge, such as %(example)s."
                )
                % {"piece": piece[:40], "example": example}
            )
        low, high = read_length(match["low"], unit), read_length(match["high"], unit)
        found.append((low, high, read_length(match["height"], unit) if match["height"] else 0))
    return found


def _show_box(box: core.Keepout | core.Member, unit: str) -> str:
    return (
        f"{show_bare(box.width, unit)} x {show_bare(box.depth, unit)} "
        f"at x {show_bare(box.x, unit)} y {show_bare(box.y, unit)}"
        + (f": {_why_text(box.why)}" if box.why else "")
    )


def _no_keepout(piece: str, unit: str) -> str:
    return _("“%(piece)s” keeps nothing free; write width x depth at x and y, and why: %(example)s.") % {
        "piece": piece,
        "example": show_keepouts(USUAL_KEEPOUTS, unit),
    }


def _no_member(piece: str, unit: str) -> str:
    return _("“%(piece)s” is no part; write width x depth at x and y, and what it is: %(example)s.") % {
        "piece": piece,
        "example": show_members(USUAL_MEMBERS, unit),
    }


def _box(piece: str, unit: str, refuse: Callable[[str, str], str]) -> tuple[int, int, int, int, str]:
    """x, y, width, depth and what for; ``refuse`` says in the unit what is wrong with a piece."""
    match = _BOX.fullmatch(piece)
    if match is None:
        raise NotationError(refuse(piece[:40], unit))
    x, y, width, depth = (read_length(match[part], unit) for part in ("x", "y", "width", "depth"))
    if not width or not depth:
        raise NotationError(
            _("“%(piece)s” has no size; width and depth are above zero.") % {"piece": piece[:40]}
        )
    taken = take_quoted(match["why"] or "")
    return x, y, width, depth, taken[0] if taken else (match["why"] or "").strip()


def _draw(piece: str) -> Draw:
    is_bare = re.fullmatch(rf"{AMPS}|[0-9]+", piece, re.IGNORECASE)
    name, rest = ("DC", piece) if is_bare else take_name(piece)
    name = name if piece.startswith('"') else name.rstrip(":")
    match = _DRAW.fullmatch(rest)
    if match is None:
        raise NotationError(
            _(
                "“%(piece)s” is no measured draw; write the jack and "
                "its current, such as DC 98 mA on 2026-03-01 by Jo."
            )
            % {"piece": piece[:40]}
        )
    taken = take_quoted(match["by"] or "")
    by = taken[0] if taken else (match["by"] or "").strip()
    try:
        on = date.fromisoformat(match["on"]) if match["on"] else None
        return Draw(jack=name, measured=parse_milliamps(match["measured"]), on=on, by=by)
    except (AmountError, ValueError) as error:
        raise NotationError(str(error)) from error


def _draw_text(draw: Draw) -> str:
    parts = [quoted(draw.jack), f"{draw.measured}mA"]
    parts.append(f"on {draw.on.isoformat()}" if draw.on else "")
    parts.append(f"by {_why_text(draw.by)}" if draw.by else "")
    return " ".join(part for part in parts if part)


def _why_text(text: str) -> str:
    """Free text at the end of a piece: only what would end the piece needs quotes."""
    return quoted(text) if re.search(r'[;|\n:"]', text) or text != text.strip() else text
