"""The rules of cables as data, and one function that makes a finding from each."""

from dataclasses import dataclass

from boardshop.core.findings import Finding


@dataclass(frozen=True, slots=True)
class CableRule:
    severity: str
    cure: str
    basis: str


CABLE_RULES: dict[str, CableRule] = {
    "C01": CableRule("unknown", "Record what is missing.", "calculation"),
    "C02": CableRule(
        "fault",
        "Move what stands in the way, turn the pedal, or lead the cable the other way (top or under).",
        "calculation",
    ),
    "C03": CableRule(
        "fault", "Make a new cable to the length to cut, or move the pedals nearer.", "calculation"
    ),
    "C04": CableRule("fault", "Route the link on top, or use a frame with slots.", "common practice"),
    "C05": CableRule("fault", "Choose a plug of the jack's kind, or carry an adapter.", "common practice"),
    "C06": CableRule("caution", "Make a longer cable when this one is next taken out.", "common practice"),
    "C07": CableRule("caution", "Use a three-pole plug, or split the two sides.", "common practice"),
    "C08": CableRule("caution", "Buy or find more of this cable before the build.", "calculation"),
    "C09": CableRule("advice", "Route it under the frame, or place the two nearer.", "common practice"),
    "C10": CableRule("caution", "Shorten the run, or put a repeater in.", "MIDI 1.0 Detailed Specification"),
    "C11": CableRule("unknown", "Record the lead's whole length.", "common practice"),
    "C30": CableRule(
        "fault", "Take it off and mend it until it passes its test, or make a new one.", "common practice"
    ),
    "C31": CableRule("unknown", "Test it at the bench, and record what was read.", "common practice"),
}
"""C01 value not recorded, C02 no way, C03 made too short, C04 through a closed frame, C05 plug and jack
differ, C06 made without slack, C07 two-pole plug in a stereo jack, C08 stock too short, C09 long on top,
C10 MIDI too long, C11 lead without a length, C30 made cable that failed its test, C31 one that was not
tested."""

LONG_ON_TOP_MM = 250
"""Above this a run goes under the frame; common practice."""

MIDI_MAX_MM = 15_000
"""MIDI 1.0: at most 15 m (50 ft) of cable."""

MATING_CONNECTORS = (("6.35 TS", "6.35 TRS"), ("3.5 TRS", "3.5 mono"))
"""Connectors of unlike names that go into each other all the same."""


def cable_finding(rule: str, subjects: tuple[str, ...], message: str, cure: str | None = None) -> Finding:
    row = CABLE_RULES[rule]
    return Finding(rule, row.severity, subjects, message, cure or row.cure, row.basis)


def connectors_mate(one: str, other: str) -> bool:
    """Whether a plug of one kind goes into a jack of the other."""
    return one == other or any(one in pair and other in pair for pair in MATING_CONNECTORS)
