"""The tests after a cable is made, as data: what is read, on which kinds of cable, and within which limits.

Limits and what each test finds are common practice among those who make cables; none is from a standard.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

BASIS = "common practice"

TIP_OHM, TIP_OHM_PER_M = Decimal("0.3"), Decimal("0.1")
SLEEVE_OHM, SLEEVE_OHM_PER_M = Decimal("0.15"), Decimal("0.05")
INSULATION_MOHM = Decimal(20)
WIGGLE_OHM = Decimal("0.1")
PF_SHARE = Decimal("0.15")
PF_OF_PLUGS = (Decimal(5), Decimal(15))
"""What a pair of plugs adds, least and most."""
DROP_MV, DROP_AT_MA = 200, 500


@dataclass(frozen=True, slots=True)
class MadeAs:
    """What the limits of a cable follow from: its kind, its cut length, and its cable's pF/m if known."""

    kind: str
    length_mm: int
    pf_per_m: int | None = None


@dataclass(frozen=True, slots=True)
class Limit:
    """A reading passes between `low` and `high`; a bound itself passes only where `with_bounds`."""

    words: str
    low: Decimal | None = None
    high: Decimal | None = None
    with_bounds: bool = False
    over_range_passes: bool = False

    def admits(self, value: Decimal) -> bool:
        if self.low is not None and (value < self.low or (value == self.low and not self.with_bounds)):
            return False
        return self.high is None or value < self.high or (value == self.high and self.with_bounds)


@dataclass(frozen=True, slots=True)
class BenchTest:
    """One thing that is tested; `limit` is None for what is seen or heard instead of read."""

    key: str
    name: str
    how: str
    finds: str
    kinds: tuple[str, ...]
    limit: Callable[[MadeAs], Limit | None] | None = None
    right: str = ""
    """What passes, where nothing is read."""
    is_needed: bool = True


def _per_metre(base: Decimal, rate: Decimal, made: MadeAs) -> Limit:
    high = base + rate * made.length_mm / 1000
    return Limit(f"below {say(high)} ohm", high=high)


def _capacitance(made: MadeAs) -> Limit | None:
    if made.pf_per_m is None:
        return None
    of_cable = Decimal(made.pf_per_m) * made.length_mm / 1000
    low = (of_cable + PF_OF_PLUGS[0]) * (1 - PF_SHARE)
    high = (of_cable + PF_OF_PLUGS[1]) * (1 + PF_SHARE)
    return Limit(f"{say(low)} to {say(high)} pF", low=low, high=high, with_bounds=True)


def say(value: Decimal) -> str:
    """Without zeros that say nothing: 0.332, 20, 58.5."""
    return f"{value.normalize():f}"


_AUDIO = ("signal", "stereo")
_WIRED = (*_AUDIO, "midi", "control")
_ALL = (*_WIRED, "dc")

BENCH_TESTS: tuple[BenchTest, ...] = (
    BenchTest(
        "tug",
        "Look and tug",
        "Look into both plugs, then pull each with about 20 N.",
        "cold joint, loose strand",
        _ALL,
        right="no movement",
    ),
    BenchTest(
        "tip_ohm",
        "Tip to tip",
        "From end to end, the meter's own leads taken off; of several wires the worst.",
        "open wire, poor joint",
        _WIRED,
        lambda made: _per_metre(TIP_OHM, TIP_OHM_PER_M, made),
    ),
    BenchTest(
        "sleeve_ohm",
        "Sleeve to sleeve",
        "From end to end, the meter's own leads taken off; the shield where there is no sleeve.",
        "open shield, poor joint",
        _WIRED,
        lambda made: _per_metre(SLEEVE_OHM, SLEEVE_OHM_PER_M, made),
    ),
    BenchTest(
        "insulation_mohm",
        "Tip to sleeve",
        "With nothing plugged in.",
        "short, leakage over a conductive layer",
        _WIRED,
        lambda made: Limit(
            f"above {say(INSULATION_MOHM)} Mohm, or over range", low=INSULATION_MOHM, over_range_passes=True
        ),
    ),
    BenchTest(
        "crossed",
        "Tip to the far sleeve",
        "Across the cable, both ways.",
        "swapped wires",
        ("signal",),
        right="open",
    ),
    BenchTest(
        "pin_map",
        "Pin by pin",
        "Each pin or ring against every one of the other end.",
        "swapped wires, type A for type B",
        ("stereo", "midi", "control"),
        right="each to its own and to no other",
    ),
    BenchTest(
        "wiggle_ohm",
        "Wiggle",
        "Bend the cable at each end for 10 s while the meter holds least and most.",
        "intermittent joint",
        _ALL,
        lambda made: Limit(f"at most {say(WIGGLE_OHM)} ohm of change", high=WIGGLE_OHM, with_bounds=True),
    ),
    BenchTest(
        "listened",
        "Listen",
        "At high gain, tap and flex it.",
        "microphony, broken shield",
        _AUDIO,
        right="no crackle, thump or hum",
    ),
    BenchTest(
        "pf",
        "Capacitance",
        "Tip to sleeve, nothing plugged in.",
        "wrong cable, damaged insulation",
        _AUDIO,
        _capacitance,
        is_needed=False,
    ),
    BenchTest(
        "polarity",
        "Polarity",
        "On the outlet that it is for, against what its label says.",
        "reversed wires",
        ("dc",),
        right="as labelled",
    ),
    BenchTest(
        "drop_mv",
        "Loaded drop",
        f"Between outlet and plug with {DROP_AT_MA} mA flowing.",
        "thin wire, poor joint",
        ("dc",),
        lambda made: Limit(
            f"at most {say(Decimal(DROP_MV) / 1000)} V", high=Decimal(DROP_MV), with_bounds=True
        ),
    ),
)
"""In the order in which they are made.  The capacitance tells a wrong cable, not a bad joint, and takes a
meter that many do not have: a cable passes without it, and the page says that it was not read."""


def list_tests(kind: str) -> tuple[BenchTest, ...]:
    return tuple(test for test in BENCH_TESTS if kind in test.kinds)
