"""Mains: what is looked at on site and in which order, the voltages abroad, and the cautions.

All of it gives way to the venue's electrician and to local rules; none of it makes anything safe.
"""

from dataclasses import dataclass

from boardshop.core.power.rule import COMMON

FROM_MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class MainsCheck:
    """One look before anything is plugged in."""

    look: str
    wanted: str
    basis: str = COMMON


@dataclass(frozen=True, slots=True)
class Region:
    """Mains of a region; ``plugs`` are the letters by which plugs and sockets are known worldwide."""

    name: str
    volts: str
    hz: str
    plugs: str
    basis: str = FROM_MEMORY


MAINS_CHECKS: tuple[MainsCheck, ...] = (
    MainsCheck(
        "Who is responsible, and which distribution feeds the stage: the house or a generator, alone or with "
        "the lights?",
        "A name, and a distribution with a residual-current device of 30 mA that has been tested.",
        "IEC 60364-4-41",
    ),
    MainsCheck(
        "A meter on the socket, before anything is plugged in",
        "Line to neutral within 10 % of what is expected, line to earth about the same, neutral to earth "
        "below 2 V; above 5 V stop and ask. And the frequency.",
    ),
    MainsCheck(
        "Which phase and distribution the guitar rigs and the mixing desks hang on",
        "All on one, for audio only; lights and motors elsewhere.",
    ),
    MainsCheck(
        "The plate of every supply and amp",
        "Its range holds this voltage and frequency, its selector stands right, its fuse is the one named.",
    ),
    MainsCheck(
        "The earth of every class I plug", "A continuity tester shows it from the plug's pin to the metal."
    ),
    MainsCheck("The voltage once more with the whole stage running", "Still within 10 %."),
)

MAINS_CAUTIONS: tuple[str, ...] = (
    "Mains work is done by qualified people under local rules.",
    "A protective earth is never removed or lifted.",
    "An adapter between plug shapes changes no voltage.",
    "A step-down transformer has at least twice the load's VA and carries the earth through.",
    "If something tingles: stop, have it switched off at the distribution, call the electrician.",
    "A residual-current device that trips has a reason: find it, and never bridge the device.",
)

WIRE_COLOURS = (
    "Protective earth is green and yellow, neutral blue, lines are brown, black or grey (IEC 60445); "
    "elsewhere and in old installations they differ."
)

REGIONS: tuple[Region, ...] = (
    Region(
        "Mainland of the European Union, Nordic countries, Turkey",
        "230",
        "50",
        "F; E in France, Belgium, Poland and Czechia; C; K in Denmark; L in Italy; J in Switzerland",
        "EN 50160 for the voltage (10 % either way); plugs from memory",
    ),
    Region(
        "United Kingdom, Ireland, Malta, Cyprus, parts of the Gulf, Singapore, Malaysia, Hong Kong",
        "230 to 240 (Hong Kong 220)",
        "50",
        "G, with a fuse of 3, 5 or 13 A in the plug",
    ),
    Region(
        "USA and Canada; Mexico and Central America",
        "120 (Mexico 127)",
        "60",
        "A, B",
        "ANSI C84.1 for 120 V (5 % either way); the rest from memory",
    ),
    Region(
        "Japan", "100", "50 in the east, 60 in the west", "A, mostly two pins: earth by a screw or a wire"
    ),
    Region("Taiwan", "110", "60", "A, B"),
    Region("Korea", "220", "60", "C, F"),
    Region("Philippines", "220 to 230", "60", "A, B, C"),
    Region("China", "220", "50", "A, C, I"),
    Region("Australia, New Zealand, Pacific", "230", "50", "I"),
    Region("Brazil", "127 or 220, by city", "60", "N, C; old ones A, B"),
    Region("Argentina", "220", "50", "C, I, with line and neutral swapped against Australia"),
    Region("Chile", "220", "50", "C, L"),
    Region("Peru", "220", "60", "A, B, C"),
    Region("Colombia", "110 to 120", "60", "A, B"),
    Region("India", "230", "50", "D, C, M"),
    Region("South Africa", "230", "50", "N, M, C"),
    Region("Israel", "230", "50", "C, H"),
    Region("Saudi Arabia", "230 (older 127)", "60", "G"),
    Region("Thailand", "220 to 230", "50", "A, B, C, O"),
)
"""To be checked again when a show is advanced: what a country has is not what a venue has."""
