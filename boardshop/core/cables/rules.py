"""The rules of cables as data, and one function that makes a finding from each."""

from dataclasses import dataclass

from boardshop.core.findings import Finding


@dataclass(frozen=True, slots=True)
class CableRule:
    """``when`` completes "It speaks where ..."."""

    severity: str
    when: str
    cure: str
    basis: str


COMMON = "common practice"
CALCULATION = "calculation"

CABLE_RULES: dict[str, CableRule] = {
    "C01": CableRule(
        "unknown",
        "a value that a run, its cut or its capacitance needs is not recorded",
        "Record what is missing.",
        CALCULATION,
    ),
    "C02": CableRule(
        "fault",
        "there is no way for a run: something stands over one of its ends or all around it",
        "Move what stands in the way, turn the pedal, or lead the cable the other way (top or under).",
        CALCULATION,
    ),
    "C03": CableRule(
        "fault",
        "a made cable is shorter than its run and both plugs take",
        "Take it off and make a new cable to the length to cut, or move the pedals nearer.",
        CALCULATION,
    ),
    "C04": CableRule(
        "fault",
        "a cable is routed under a frame whose top is closed",
        "Route the link on top, or use a frame with slots.",
        COMMON,
    ),
    "C05": CableRule(
        "fault",
        "a plug does not go into the jack it is meant for",
        "Choose a plug of the jack's kind, or carry an adapter.",
        COMMON,
    ),
    "C06": CableRule(
        "caution",
        "a made cable reaches but has less slack than a new one would be cut with",
        "Make a longer cable when this one is next taken out.",
        COMMON,
    ),
    "C07": CableRule(
        "caution",
        "a two-pole plug goes into a stereo jack",
        "Use a three-pole plug, or split the two sides.",
        COMMON,
    ),
    "C08": CableRule(
        "caution",
        "the stock in hand does not yield every piece",
        "Buy or find more of this cable before the build.",
        CALCULATION,
    ),
    "C09": CableRule(
        "advice",
        "a run on top of a slotted frame is longer than 250 mm",
        "Route it under the frame, or place the two nearer.",
        COMMON,
    ),
    "C10": CableRule(
        "caution",
        "a MIDI cable is longer than 15 m",
        "Shorten the run, or put a repeater in.",
        "MIDI 1.0 Detailed Specification",
    ),
    "C11": CableRule(
        "unknown",
        "a lead to an instrument or an amp has no length on record",
        "Record the lead's whole length.",
        COMMON,
    ),
    "C12": CableRule(
        "caution",
        "two runs cross on top, one over the other, where a foot comes to a switch",
        "Lead one of the two under the frame, or move a pedal so that they no longer cross there.",
        COMMON,
    ),
    "C13": CableRule(
        "advice",
        "a run on top lies across the way of a foot to a switch: 110 mm wide, from the switch to the front "
        "edge or to the first body in front",
        "Route it under the frame, or fix it flat so that no toe catches it.",
        COMMON,
    ),
    "C14": CableRule(
        "caution",
        "a signal run lies beside a mains lead nearer than 100 mm, or comes nearer than 25 mm to it, on the "
        "same side of the frame's top",
        "Lead the cable or the mains another way; where they must meet, cross square with 25 mm between. "
        "Work on the mains is for licensed people under local codes.",
        COMMON,
    ),
    "C15": CableRule(
        "caution",
        "a signal run lies beside a pedal's AC lead nearer than 100 mm, or comes nearer than 25 mm to it, on "
        "the same side of the frame's top",
        "Lead one of the two another way; where they must meet, cross square with 25 mm between them.",
        COMMON,
    ),
    "C16": CableRule(
        "advice",
        "a signal run lies beside DC leads nearer than 20 mm, on the same side of the frame's top",
        "Tie them apart, or cross them square.",
        COMMON,
    ),
    "C17": CableRule(
        "caution",
        "a switching supply is nearer than 50 mm, in plan, to a wah, to a fuzz, or to the patches of the "
        "first three pedals",
        "Move the supply or what it disturbs, and listen with the gain up.",
        COMMON,
    ),
    "C18": CableRule(
        "advice",
        "three or more runs lie on one way on top of a slotted frame",
        "Lead them under the frame together, or tie them into one loom behind the pedals.",
        COMMON,
    ),
    "C19": CableRule(
        "fault",
        "a run under the frame finds no opening between the rails that its cable could go through",
        "Route the link on top, move what covers the openings, or use a frame with wider gaps.",
        COMMON,
    ),
    "C20": CableRule(
        "caution",
        "the nearest opening for a run under the frame is farther from a plug than is added for a pass",
        "Cut it longer, move the pedal nearer to a gap, or add more for each pass in the board's rules.",
        CALCULATION,
    ),
    "C21": CableRule(
        "unknown",
        "where the mains goes in, where the outlets are, what current one gives, or whether a supply "
        "switches is not recorded, and a signal cable is near enough for it to matter",
        "Look at the supply, and record it.",
        COMMON,
    ),
    "C22": CableRule(
        "fault",
        "a link's made cable failed its last test",
        "Take it off and mend it until it passes its test, or make a new one.",
        COMMON,
    ),
    "C23": CableRule(
        "unknown",
        "a link's made cable was not tested, or not wholly",
        "Test it at the bench, and record what was read.",
        COMMON,
    ),
}
"""C01 value not recorded, C02 no way, C03 made too short, C04 through a closed frame, C05 plug and jack
differ, C06 made without slack, C07 two-pole plug in a stereo jack, C08 stock too short, C09 long on top,
C10 MIDI too long, C11 lead without a length, C12 crossing under a foot, C13 run under a foot, C14 beside
mains, C15 beside AC, C16 beside DC, C17 beside a switching supply, C18 shared way, C19 no opening,
C20 opening too far, C21 what the spacing needs, C22 made cable that failed its
test, C23 one that was not tested."""

OF_PLACES = frozenset({"C02", "C03", "C06", *(f"C{number}" for number in range(12, 21))})
"""Those that a thing can settle or bring by being moved."""

LONG_ON_TOP_MM = 250
"""Above this a run goes under the frame; common practice."""

MIDI_MAX_MM = 15_000
"""MIDI 1.0: at most 15 m (50 ft) of cable."""

BESIDE_MAINS_MM = 100
NEAR_MAINS_MM = 25
"""Signal beside mains or AC, and where the two must meet; common practice."""

BESIDE_DC_MM = 20
FROM_SWITCHING_MM = 50
"""Signal beside DC; a switching supply's body from what picks it up; common practice."""

FIRST_ITEMS = 3
"""The patches up to this pedal carry the quietest signal; common practice."""

SHARED_FROM_MM = 50
SHARED_BY = 3
"""Runs that share so much of one way go under the frame together; the number is common practice, the length
from memory."""

MATING_CONNECTORS = (("6.35 TS", "6.35 TRS"), ("3.5 TRS", "3.5 mono"))
"""Connectors of unlike names that go into each other all the same."""


def cable_finding(rule: str, subjects: tuple[str, ...], message: str, cure: str | None = None) -> Finding:
    row = CABLE_RULES[rule]
    return Finding(rule, row.severity, subjects, message, cure or row.cure, row.basis)


def connectors_mate(one: str, other: str) -> bool:
    """Whether a plug of one kind goes into a jack of the other."""
    return one == other or any(one in pair and other in pair for pair in MATING_CONNECTORS)
