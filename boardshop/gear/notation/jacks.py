"""Jacks and foot switches in one cell: `IN in right 60mm; OUT out left 60mm`, `x 36mm y 20mm`."""

import re

from django.utils.translation import gettext as _

from boardshop.core import plan as core
from boardshop.gear.notation.scanning import (
    LENGTH,
    Fact,
    NotationError,
    length_fact,
    pieces_of,
    quoted,
    read_facts,
    read_length,
    show_bare,
    take_quoted,
    word_fact,
)
from boardshop.gear.notation.words import LISTS

LONGEST_NAME = 20


def read_jacks(text: str, unit: str) -> tuple[core.Jack, ...]:
    """Bare lengths count in `unit`; raises NotationError."""
    return tuple(_jack(piece, unit) for piece in pieces_of(text))


def show_jacks(jacks: tuple[core.Jack, ...]) -> str:
    """What `read_jacks` reads back the same, whatever the unit."""
    return "; ".join(_jack_text(jack) for jack in jacks)


def read_switches(text: str, unit: str) -> tuple[core.Point, ...]:
    return tuple(_switch(piece, unit) for piece in pieces_of(text))


def show_switches(switches: tuple[core.Point, ...]) -> str:
    return "; ".join(f"x {at.x}mm y {at.y}mm" for at in switches)


def take_name(piece: str) -> tuple[str, str]:
    """The first word, or the quoted text, and the rest."""
    name, rest = take_quoted(piece) or (piece.split(maxsplit=1) + ["", ""])[:2]
    check_name(name)
    return name, rest


def check_name(name: str) -> None:
    if not re.fullmatch(r"[^.\s]+", name) or len(name) > LONGEST_NAME:
        raise NotationError(
            _("“%(name)s” is no jack's name; use one word of at most %(most)s signs without a point.")
            % {"name": name[:40], "most": LONGEST_NAME}
        )


def _jack_facts(unit: str) -> list[Fact]:
    return [
        word_fact("side", LISTS["side"]),
        length_fact("height", unit, before=r"(?:height|high|h)[\s:=]*"),
        length_fact("offset", unit),
        word_fact("connector", LISTS["connector"]),
        word_fact("channels", LISTS["channels"]),
    ]


def _jack(piece: str, unit: str) -> core.Jack:
    name, rest = take_name(piece)
    role = re.match(rf"\s*({LISTS['jack_role'].pattern})", rest, re.IGNORECASE)
    own_role = LISTS["jack_role"].find(name)
    if role is None and own_role is None:
        raise NotationError(
            _(
                "Jack %(name)s has no role; write name, role, side and offset, "
                "such as IN in right %(offset)s. Roles: %(roles)s."
            )
            % {"name": name, "roles": LISTS["jack_role"], "offset": show_bare(60, unit)}
        )
    accepted = _("after name and role come side, offset, height, connector, mono or stereo.")
    facts = read_facts(rest[role.end() :] if role else rest, _jack_facts(unit), accepted)
    return core.Jack(name=name, role=(LISTS["jack_role"].find(role[1]) if role else own_role) or "", **facts)


def _jack_text(jack: core.Jack) -> str:
    parts = [quoted(jack.name), jack.role, jack.side or ""]
    parts.append("" if jack.offset is None else f"{jack.offset}mm")
    parts.append("" if jack.height is None else f"height {jack.height}mm")
    parts += [jack.connector or "", jack.channels or ""]
    return " ".join(part for part in parts if part)


def _switch(piece: str, unit: str) -> core.Point:
    numbers = rf"(?:x[\s:=]*)?(?P<x>{LENGTH})(?:\s*[,/]\s+|\s*/\s*|\s+)(?:y[\s:=]*)?(?P<y>{LENGTH})"
    match = re.fullmatch(numbers, piece.strip(), re.IGNORECASE)
    if match is None:
        raise NotationError(
            _(
                "“%(piece)s” is no foot switch; write x from the left and y from the front, "
                "such as x %(x)s y %(y)s."
            )
            % {"piece": piece[:40], "x": show_bare(36, unit), "y": show_bare(20, unit)}
        )
    return core.Point(read_length(match["x"], unit), read_length(match["y"], unit))
