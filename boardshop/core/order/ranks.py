"""Where a pedal stands by itself: its slot in the trade's list, and the slot's rank in each school.

Two respected schools order a chain differently.  ``common`` cleans early with a gate, puts fuzz before wah
and tremolo last; ``dynamics-first`` puts wah, pitch and compression first, gates after the drive and puts
tremolo before the delay.  All ranks are common practice and only sort keys: in ``common`` the ranks of one
decade are equal, in ``dynamics-first`` only equal numbers are.
"""

from dataclasses import dataclass

from boardshop.core.plan import Pedal
from boardshop.core.vocabulary import DEFAULT_ROLES

VINTAGE_BELOW_OHM = 100_000
"""A fuzz that loads the pickup with less than this is the vintage kind; common practice."""

MODULATIONS = ("phaser", "flanger", "vibrato", "chorus", "rotary", "modulation")
FUZZES = ("fuzz", "vintage fuzz")
VOLUMES = ("volume", "input volume", "master volume", "free volume")
DRIVES = ("overdrive", "distortion")
GAINS = (*FUZZES, *DRIVES, "preamp")
TAILS = ("delay", "reverb")
SHIFTERS = ("pitch-shifter", "harmoniser")
GATES = ("noise-gate", "four-jack gate")
EFFECTS = (
    *FUZZES,
    "bit-crusher",
    "wah",
    "envelope-filter",
    "compressor",
    *SHIFTERS,
    "ring-modulator",
    "boost",
    *DRIVES,
    "eq",
    *MODULATIONS,
    *TAILS,
    "tremolo",
)


@dataclass(frozen=True, slots=True)
class Rank:
    """One slot's number in each school."""

    common: int
    dynamics_first: int


RANKS = {
    "wireless-receiver": Rank(0, 0),
    "buffer": Rank(5, 5),
    "tuner": Rank(10, 10),
    "input volume": Rank(12, 12),
    "noise-gate": Rank(20, 75),
    "synth": Rank(25, 15),
    "vintage fuzz": Rank(30, 20),
    "fuzz": Rank(30, 50),
    "bit-crusher": Rank(35, 88),
    "wah": Rank(40, 30),
    "envelope-filter": Rank(41, 31),
    "compressor": Rank(50, 40),
    "pitch-shifter": Rank(60, 35),
    "harmoniser": Rank(62, 89),
    "ring-modulator": Rank(64, 86),
    "boost": Rank(70, 58),
    "overdrive": Rank(71, 60),
    "distortion": Rank(80, 70),
    "preamp": Rank(84, 78),
    "eq": Rank(86, 80),
    "volume": Rank(88, 85),
    # A modulation of no recorded sort takes the first number of its row.
    "modulation": Rank(90, 90),
    "phaser": Rank(90, 90),
    "flanger": Rank(92, 92),
    "vibrato": Rank(94, 94),
    "chorus": Rank(96, 96),
    "rotary": Rank(98, 98),
    "delay": Rank(100, 105),
    "reverb": Rank(110, 110),
    "tremolo": Rank(120, 95),
    "output boost": Rank(130, 120),
    "looper": Rank(140, 130),
    "output buffer": Rank(145, 145),
    "master volume": Rank(145, 145),
    "cab-simulator": Rank(150, 150),
    "di": Rank(160, 160),
}
"""Slots that are not here have no rank: their place follows from the wiring or from their role."""

ROLE_SLOTS = {
    "boost": {"level": "output boost", "master": "output boost"},
    "buffer": {"level": "output buffer", "master": "output buffer"},
    "volume": {
        "input": "input volume",
        "master": "master volume",
        "drive": "free volume",
        "level": "free volume",
        "limiter": "free volume",
    },
    "eq": dict.fromkeys(("input", "level", "limiter", "master", "swell"), "free eq"),
    "compressor": {"limiter": "limiter", "level": "limiter"},
    "tuner": {"master": "mute tuner"},
}
"""Kinds that stand in several places, by recorded role; a role not listed leaves the kind in its usual slot.

A level-setting or input eq may stand anywhere, a levelling compressor belongs after what it levels, and a
tuner with role ``master`` is the stage mute at the end: none of these has a rank.
"""


def slot_of(pedal: Pedal) -> str:
    """The pedal's slot in the trade's list, from kind, role and (for a fuzz) what it loads the pickup with.

    A fuzz whose ``input_ohm`` nobody recorded takes the modern one's slot.
    """
    if pedal.kind == "fuzz":
        return "vintage fuzz" if is_low_input(pedal.input_ohm) else "fuzz"
    role = pedal.role or DEFAULT_ROLES.get(pedal.kind, "")
    return ROLE_SLOTS.get(pedal.kind, {}).get(role, pedal.kind)


def is_low_input(input_ohm: int | None) -> bool:
    return input_ohm is not None and input_ohm < VINTAGE_BELOW_OHM


def slot_rank(slot: str, school: str) -> int | None:
    """The number that ``school`` sorts the slot by; None where it has no rank.

    ``common`` gives decades (0..16), because all ranks of one decade are equal there.
    """
    rank = RANKS.get(slot)
    if rank is None:
        return None
    return rank.dynamics_first if school == "dynamics-first" else rank.common // 10


def rank_of(pedal: Pedal, school: str) -> int | None:
    """``slot_rank`` of a pedal by itself, wherever it is wired."""
    return slot_rank(slot_of(pedal), school)
