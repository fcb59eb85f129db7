"""The rules of tone as data, and one function that makes a finding from each."""

from dataclasses import dataclass

from boardshop.core.findings import Finding

COMMON = "common practice"
CALCULATION = "calculation"


@dataclass(frozen=True, slots=True)
class ToneRule:
    """One rule; ``when`` completes "It speaks where ...".

    ``severities`` are those it speaks in, worst first; none for what is only ever said beside the figures.
    ``unknown`` is spoken where a value that the rule needs is not recorded.
    """

    severities: tuple[str, ...]
    when: str
    cure: str
    basis: str = COMMON


TONE_RULES: dict[str, ToneRule] = {
    "T01": ToneRule(
        ("unknown",),
        "a part of what hangs on the pickup is not recorded: its own values, a cable's capacitance or "
        "length, the amp's input, or where the signal ends; counted is the lead, each pedal's bypass wiring "
        "and each patch up to the first input that always loads, and to the amp where there is none",
        "Record what is missing.",
    ),
    "T02": ToneRule(
        ("advice",),
        "more than 5 true-bypass pedals follow the instrument with nothing among them that drives",
        "Put one pedal that always drives among them, near the entry.",
    ),
    "T03": ToneRule(
        ("unknown", "caution"),
        "a passive pedal stands where one that drives is counted on, or whether a pedal is true-bypass or "
        "engaged is not recorded",
        "Record what is missing, or have a buffer drive what follows.",
    ),
    "T04": ToneRule(
        ("unknown", "caution"),
        "an input below 500 kohm loads a passive pickup, markedly below 250 kohm, unless it is a fuzz that "
        "wants that",
        "Put an input of 1 Mohm in front, or bypass this one when it is not wanted.",
    ),
    "T05": ToneRule(
        ("unknown", "caution"),
        "what drives a cable does it from so high an impedance that treble falls off above less than 15 kHz",
        "Shorten this run, use cable of less capacitance, or have a buffer drive it.",
        CALCULATION,
    ),
    "T06": ToneRule(
        ("caution",),
        "several inputs hang side by side on a passive pickup or on a passive pedal: their loads are in "
        "parallel and their cables add up",
        "Feed one of them from a buffered output or through a buffered splitter.",
        CALCULATION,
    ),
    "T07": ToneRule(
        ("advice",),
        "more than 700 pF come before the first pedal that drives, with other pedals before it",
        "Move a buffer to the entry, but behind a fuzz that wants the bare pickup.",
    ),
    "T08": ToneRule(
        ("unknown", "caution"),
        "a passive volume pedal stands behind something that drives, and half way up it and the cable behind "
        "it take the treble above less than 15 kHz",
        "Use a 25 kohm pedal behind a buffer, or move this one before the first buffer.",
        CALCULATION,
    ),
    "T09": ToneRule(
        ("caution", "advice"),
        "with every pedal bypassed less than 300 pF or more than 700 pF hang on the pickup; above 1000 pF a "
        "buffer is advised, above 1500 pF strongly",
        "Shorten the leads, use cable of less capacitance, or put a buffer at the entry.",
    ),
    "T10": ToneRule(
        (),
        "a figure of tone is shown: the level at one frequency is never called the loss",
        "Read resonance, peak and the levels at 3 and 5 kHz together.",
        CALCULATION,
    ),
    "T11": ToneRule(
        (),
        "a stage drives: what hangs behind it no longer meets the instrument",
        "Judge what follows by the corner of whatever drives it.",
        CALCULATION,
    ),
    "T12": ToneRule(
        ("advice",),
        "a lead of more than 1 m is recorded between the instrument and the receiver of a wireless set",
        "Enter the length of the transmitter's short lead, 0.3 to 1 m.",
    ),
}
"""T01 what is counted, T02 bypass wiring in a row, T03 engaged pedals as drivers, T04 loading, T05 a driver's
corner, T06 several inputs on one passive output, T07 a buffer that comes too late, T08 a volume pot behind a
buffer, T09 the total, T10 no figure by itself, T11 what is behind a driver, T12 a wireless set's lead."""

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


@dataclass(frozen=True, slots=True)
class Band:
    """Totals up to and including ``most_pf``; the last band has no end. ``severity`` None is no finding."""

    most_pf: int | None
    severity: str | None
    words: str
    says: str


BANDS: tuple[Band, ...] = (
    Band(
        TOO_BRIGHT_PF - 1,
        "advice",
        "brighter than most ears expect",
        "That is brighter than most ears expect.",
    ),
    Band(NORMAL_PF, None, "usual", "That is usual."),
    Band(BUFFER_PF, "advice", "noticeably softer on top", "The top is noticeably softer."),
    Band(STRONG_PF, "caution", "dull, a buffer is advised", "That is dull enough to ask for a buffer."),
    Band(
        None,
        "caution",
        "strongly dull, a buffer is wanted",
        "That is strongly dull: a buffer at the entry is wanted.",
    ),
)
"""T09: what a total with the volume full up comes to; common practice."""


def band_of(pf: int) -> Band:
    """The band that a total falls in."""
    return next(band for band in BANDS if band.most_pf is None or pf <= band.most_pf)


TRANSMITTER_LEAD_MM = 1_000
"""The lead between instrument and transmitter is 0.3 to 1 m; common practice."""

SIMULATED_CABLE = (
    "If it is too bright, see whether the wireless set has a switch that simulates cable: some do, with 500 "
    "to 1000 pF."
)
"""The cure of too little capacitance behind a transmitter; common practice."""


def tone_finding(
    rule: str, severity: str, subjects: tuple[str, ...], message: str, cure: str = ""
) -> Finding:
    """A finding of the table's rule; ValueError for a severity that the table does not give it."""
    row = TONE_RULES[rule]
    if severity not in row.severities:
        raise ValueError(f"{rule} does not speak as {severity}.")
    return Finding(rule, severity, subjects, message, cure or row.cure, row.basis)
