"""The rules of tone as data, and one function that makes a finding from each."""

from dataclasses import dataclass

from boardshop.core.findings import Finding


@dataclass(frozen=True, slots=True)
class ToneRule:
    cure: str
    basis: str = "common practice"


TONE_RULES: dict[str, ToneRule] = {
    "T01": ToneRule("Record what is missing."),
    "T02": ToneRule("Put one pedal that always drives among them, near the entry."),
    "T03": ToneRule("Record what is missing, or have a buffer drive what follows."),
    "T04": ToneRule("Put an input of 1 Mohm in front, or bypass this one when it is not wanted."),
    "T05": ToneRule(
        "Shorten this run, use cable of less capacitance, or have a buffer drive it.", "calculation"
    ),
    "T06": ToneRule("Feed one of them from a buffered output or through a buffered splitter.", "calculation"),
    "T07": ToneRule("Move a buffer to the entry, but behind a fuzz that wants the bare pickup."),
    "T08": ToneRule(
        "Use a 25 kohm pedal behind a buffer, or move this one before the first buffer.", "calculation"
    ),
    "T09": ToneRule("Shorten the leads, use cable of less capacitance, or put a buffer at the entry."),
    "T12": ToneRule("Enter the length of the transmitter's short lead."),
}
"""T01 what is counted, T02 bypass wiring in a row, T03 engaged pedals as drivers, T04 loading, T05 a driver's
corner, T06 two inputs on one output, T07 a buffer that comes too late, T08 a volume pot behind a buffer,
T09 the total, T12 the lead of a wireless transmitter."""

NOTES: tuple[tuple[str, str], ...] = (
    (
        "T10",
        "The figures hold with the instrument's volume knob full up; turned down, cable costs more treble.",
    ),
    (
        "T10",
        "Cable moves the pickup's peak down as much as it takes treble away, so the level at one frequency "
        "can rise while another falls: no single figure is the loss.",
    ),
    (
        "T11",
        "Behind the first stage that drives, the guitar's volume no longer changes the treble of the rest.",
    ),
)
"""What belongs beside every figure of this section."""

TRUE_BYPASS_IN_A_ROW = 5
"""More than these want one that drives; common practice."""

LOADING_OHM = 500_000
STRONG_LOADING_OHM = 250_000
"""Inputs below these cost a passive pickup level and treble; common practice."""

LOWEST_CORNER_HZ = 15_000
"""A driver's corner below this is heard; common practice."""

TOO_BRIGHT_PF = 300
NORMAL_PF = 700
BUFFER_PF = 1_000
STRONG_PF = 1_500
"""Bands of what hangs on a passive pickup with its volume full up; common practice."""

TRANSMITTER_LEAD_MM = 1_000
"""The lead between instrument and transmitter is 0.3 to 1 m; common practice."""


def tone_finding(
    rule: str, severity: str, subjects: tuple[str, ...], message: str, cure: str = ""
) -> Finding:
    row = TONE_RULES[rule]
    return Finding(rule, severity, subjects, message, cure or row.cure, row.basis)
