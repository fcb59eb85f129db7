"""Whether a made cable passes: each reading against its limit, and the verdict on the whole."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from boardshop.core.cables.limits import BenchTest, Limit, MadeAs, list_tests, say

type Reading = Decimal | bool | Literal["over"] | None
"""A number, whether what was seen or heard was right, `over` for a meter over its range, None = not read."""

OVER = "over"
"""What a meter shows for an open circuit, or for an insulation that is better than it can tell."""


@dataclass(frozen=True, slots=True)
class Judged:
    """One line of a test: its limit in words, what was read, and `passed`, `failed`, `not read` or, where
    nobody can tell, `not judged` with why."""

    key: str
    name: str
    limit: str
    read: str
    verdict: str
    is_needed: bool
    why: str = ""


@dataclass(frozen=True, slots=True)
class Judgement:
    """`verdict` is passed, failed, incomplete, or blank where nothing was read at all."""

    verdict: str
    lines: tuple[Judged, ...]

    @property
    def missing(self) -> tuple[str, ...]:
        """What must still be read before the cable can pass."""
        return tuple(line.name for line in self.lines if line.verdict == "not read" and line.is_needed)

    @property
    def failures(self) -> tuple[str, ...]:
        return tuple(line.name for line in self.lines if line.verdict == "failed")

    @property
    def said(self) -> str:
        """One sentence for pages and histories."""
        if self.verdict == "failed":
            return f"failed: {', '.join(self.failures).lower()}"
        if self.verdict == "incomplete":
            return f"not wholly tested, still to read: {', '.join(self.missing).lower()}"
        unread = [line for line in self.lines if line.verdict in ("not read", "not judged")]
        if self.verdict == "passed" and unread:
            return "passed; " + ", ".join(f"{line.name.lower()} {line.verdict}" for line in unread)
        return self.verdict or "not tested"


def judge_test(made: MadeAs, readings: Mapping[str, Reading]) -> Judgement:
    """Readings by the keys of `BENCH_TESTS`; those that this kind of cable does not have are left aside.

    Failed where one reading is out of its limit; passed where every needed one was read and none is.
    """
    tests = list_tests(made.kind)
    lines = tuple(_judge(test, made, readings.get(test.key)) for test in tests)
    verdicts = {line.verdict for line in lines}
    if "failed" in verdicts:
        verdict = "failed"
    elif verdicts == {"not read"}:
        verdict = ""
    else:
        verdict = (
            "passed" if all(line.verdict == "passed" for line in lines if line.is_needed) else "incomplete"
        )
    return Judgement(verdict, lines)


def _judge(test: BenchTest, made: MadeAs, reading: Reading) -> Judged:
    limit = test.limit(made) if test.limit else None
    words = limit.words if limit else test.right
    if test.limit and limit is None:
        why = "the pF/m of its cable is not recorded"
        verdict = "not read" if reading is None else "not judged"
        return Judged(test.key, test.name, "unknown", _say(test, reading), verdict, test.is_needed, why)
    if reading is None:
        return Judged(test.key, test.name, words, "", "not read", test.is_needed)
    verdict = "passed" if _passes(limit, reading) else "failed"
    return Judged(test.key, test.name, words, _say(test, reading), verdict, test.is_needed)


def _passes(limit: Limit | None, reading: Reading) -> bool:
    if limit is None or isinstance(reading, bool):
        return reading is True
    if reading == OVER:
        return limit.over_range_passes
    return isinstance(reading, Decimal) and limit.admits(reading)


UNITS = {"tip_ohm": "ohm", "sleeve_ohm": "ohm", "insulation_mohm": "Mohm", "wiggle_ohm": "ohm", "pf": "pF"}


def _say(test: BenchTest, reading: Reading) -> str:
    if reading is None:
        return ""
    if isinstance(reading, bool):
        return test.right if reading else f"not {test.right}"
    if not isinstance(reading, Decimal):
        return "over range"
    if test.key == "drop_mv":
        return f"{say(reading / 1000)} V"
    return f"{say(reading)} {UNITS[test.key]}"
