"""How a value that nobody recorded is asked for, once for each rule that needs it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex
from boardshop.core.naming import called
from boardshop.core.order.conditions import Missing

VALUES = {
    "input_ohm": ("input impedance", "take it from the data sheet or measure it"),
    "bypass": ("kind of bypass", "take it from the data sheet, or hear whether it passes signal unpowered"),
    "circuit": ("kind of circuit", "take it from the data sheet, or see whether it works without power"),
    "tracker": ("pitch tracker (one voice, several or none)", "take it from the manual"),
    "length": ("length", "measure the finished cable"),
    "level": (
        "level (instrument or line)",
        "take it from the data sheet or its level switch",
    ),
    "channels": ("channels (mono or stereo)", "take them from the manual"),
    "speaker": ("kind of speaker", "look whether it is a guitar speaker or a full-range one"),
    "output_ohm": ("output impedance", "take it from the data sheet; none is recorded for a passive pickup"),
    "inverts": ("polarity (whether it inverts)", "compare input and output on an oscilloscope"),
    "kills_dry": ("dry mute", "see in the manual whether the dry sound is switched off"),
    "latency_ms": ("delay through its converters", "take it from the data sheet or measure it"),
    "tails": ("tails", "hear whether the repeats ring on when it is switched off"),
}
"""What the board file's names mean to a technician, and where the value is found."""


MOST_NAMED = 8
"""So many parts a sentence names; the finding's subjects are complete."""


@dataclass(frozen=True, slots=True)
class Gap:
    """A rule that cannot tell about ``subjects`` (in signal order) for want of a value.

    ``asked`` completes "it cannot be told whether A and B ..."; ``risk`` says what is heard if it is wrong.
    """

    rule: str
    missing: Missing
    subjects: tuple[str, ...]
    risk: str
    asked: str = "may stay in this order"


def say_gaps(index: PlanIndex, gaps: Iterable[Gap]) -> tuple[Finding, ...]:
    """One `unknown` finding for each rule and value; its subjects are all that the rule would judge by it."""
    found: dict[tuple[str, Missing], Gap] = {}
    for gap in gaps:
        key = gap.rule, gap.missing
        found[key] = _merged(found[key], gap) if key in found else gap
    return tuple(_finding(index, gap) for gap in found.values())


def _merged(one: Gap, other: Gap) -> Gap:
    """Both gaps as one, the pedal that lacks the value staying at its end of the subjects."""
    owner = one.missing.ref
    others = tuple(dict.fromkeys(ref for ref in (*one.subjects, *other.subjects) if ref != owner))
    if owner not in one.subjects:
        return replace(one, subjects=others)
    return replace(one, subjects=(owner, *others) if one.subjects[0] == owner else (*others, owner))


def say_list(names: Iterable[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


def say_refs(index: PlanIndex, refs: Sequence[str]) -> str:
    """The parts by name; of more than ``MOST_NAMED`` the first and the last ones."""
    if len(refs) > MOST_NAMED:
        left_out = len(refs) - MOST_NAMED
        shown = [called(index, ref) for ref in (*refs[: MOST_NAMED - 1], refs[-1])]
        return say_list((*shown[:-1], f"{left_out} more", shown[-1]))
    return say_list(called(index, ref) for ref in refs)


def _finding(index: PlanIndex, gap: Gap) -> Finding:
    value, source = VALUES[gap.missing.value]
    owner = called(index, gap.missing.ref)
    return Finding(
        rule=gap.rule,
        severity="unknown",
        subjects=gap.subjects,
        message=f"{owner} has no recorded {value}, so it cannot be told whether "
        f"{say_refs(index, gap.subjects)} {gap.asked}; if not, {gap.risk}.",
        cure=f"Record the {value} of {owner}: {source}.",
        basis="common practice",
    )
