"""A magnetic pickup with its knobs full up, loaded by cable and the next input: its response in closed form.

The pickup is a source in series with ``r + j w l``; at its output hang its own capacitance and the cable's,
the volume pot, the tone pot with its capacitor, and the next input.  Its response
``H = 1 / (1 + (r + j w l) Y)`` is a ratio of polynomials in ``j w``, so its largest value is found among the
roots of a cubic instead of by scanning.
Eddy currents are not modelled: the peak of a pickup under a metal cover is lower than computed here.
Basis: calculation (nodal analysis of a linear network).
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from math import log10, pi, sqrt

LOWEST_HZ = 100.0
"""Levels are relative to this frequency, and the peak is looked for from here up."""
HIGHEST_HZ = 20_000.0

_UNIT_HZ = 1000.0  # frequencies are scaled to kHz so that the cubic's coefficients are of like size


@dataclass(frozen=True, slots=True)
class PickupCircuit:
    """Ohm, henry, pF and nF; a branch that is None is not there."""

    r_ohm: float
    l_h: float
    c_pf: float
    input_ohm: float | None
    run_pf: float = 0
    volume_ohm: float | None = None
    tone_ohm: float | None = None
    tone_nf: float | None = None

    def without_cable(self) -> "PickupCircuit":
        return replace(self, run_pf=0)

    @property
    def is_shorted(self) -> bool:
        """Nothing comes out: a load of 0 ohm."""
        return self.volume_ohm == 0 or self.input_ohm == 0


@dataclass(frozen=True, slots=True)
class _Loss:
    """``1 / |H|**2`` as ``P(x) / (1 + d x)`` with ``x`` the square of the frequency in kHz."""

    p: tuple[float, float, float, float]
    d: float

    def at(self, x: float) -> float:
        p0, p1, p2, p3 = self.p
        return (p0 + x * (p1 + x * (p2 + x * p3))) / (1 + self.d * x)


def frequency_response(
    circuit: PickupCircuit, frequencies_hz: Iterable[float], reference_hz: float | None = LOWEST_HZ
) -> tuple[float, ...]:
    """Level in dB at each frequency, relative to the level at ``reference_hz``.

    With ``reference_hz`` None the level is relative to the pickup's own voltage.
    Raises ValueError when a load of 0 ohm lets nothing out.
    """
    loss = _loss_of(circuit)
    reference = 1.0 if reference_hz is None else loss.at((reference_hz / _UNIT_HZ) ** 2)
    return tuple(10 * log10(reference / loss.at((f / _UNIT_HZ) ** 2)) for f in frequencies_hz)


@lru_cache(maxsize=256)
def find_resonance(circuit: PickupCircuit) -> float | None:
    """Where the level is largest from 100 Hz to 20 kHz; None when that is an end of the range."""
    loss = _loss_of(circuit)
    low, high = (LOWEST_HZ / _UNIT_HZ) ** 2, (HIGHEST_HZ / _UNIT_HZ) ** 2
    p0, p1, p2, p3 = loss.p
    slope = (p1 - loss.d * p0, 2 * p2, 3 * p3 + loss.d * p2, 2 * loss.d * p3)
    inner = min(_roots_between(slope, low, high), key=loss.at, default=None)
    if inner is None or loss.at(inner) >= min(loss.at(low), loss.at(high)):
        return None
    return _UNIT_HZ * sqrt(inner)


def ideal_frequency(circuit: PickupCircuit) -> float | None:
    """``1 / (2 pi sqrt(l (c + run)))`` in Hz; None without inductance or capacitance."""
    product = circuit.l_h * (circuit.c_pf + circuit.run_pf) * 1e-12
    return 1 / (2 * pi * sqrt(product)) if product > 0 else None


def corner_frequency(ohm: float, pf: float) -> float | None:
    """The -3 dB corner in Hz of a source impedance into a capacitance; None when there is none."""
    return 1 / (2 * pi * ohm * pf * 1e-12) if ohm > 0 and pf > 0 else None


def parallel(ohms: Iterable[float]) -> float:
    """Resistors side by side, ohm."""
    values = tuple(ohms)
    return 0.0 if 0 in values else 1 / sum(1 / value for value in values)


@lru_cache(maxsize=256)
def _loss_of(circuit: PickupCircuit) -> _Loss:
    if circuit.is_shorted:
        raise ValueError("A load of 0 ohm shorts the pickup: there is no response.")
    w = 2 * pi * _UNIT_HZ
    r, l_w = circuit.r_ohm, circuit.l_h * w
    c_w = (circuit.c_pf + circuit.run_pf) * 1e-12 * w
    g = sum(1 / ohm for ohm in (circuit.volume_ohm, circuit.input_ohm) if ohm is not None)
    tone_w, tone_t = 0.0, 0.0
    if circuit.tone_ohm is not None and circuit.tone_nf is not None:
        tone_w = circuit.tone_nf * 1e-9 * w
        tone_t = circuit.tone_ohm * tone_w
    a0, a1, a2 = 1 + r * g, r * c_w + l_w * g, l_w * c_w
    n0, n1 = a0, a1 + tone_t * a0 + r * tone_w
    n2, n3 = a2 + tone_t * a1 + l_w * tone_w, tone_t * a2
    return _Loss((n0 * n0, n1 * n1 - 2 * n0 * n2, n2 * n2 - 2 * n1 * n3, n3 * n3), tone_t * tone_t)


def _roots_between(cubic: Sequence[float], low: float, high: float) -> list[float]:
    """Real roots of ``c0 + c1 x + c2 x^2 + c3 x^3`` inside the interval, where the sign changes."""

    def value(x: float) -> float:
        return cubic[0] + x * (cubic[1] + x * (cubic[2] + x * cubic[3]))

    turning = (x for x in _quadratic_roots(cubic[1], 2 * cubic[2], 3 * cubic[3]) if low < x < high)
    bounds = [low, *sorted(turning), high]
    return [_bisect(value, left, right) for left, right in pairwise(bounds) if value(left) * value(right) < 0]


def _quadratic_roots(c0: float, c1: float, c2: float) -> tuple[float, ...]:
    if c2 == 0:
        return () if c1 == 0 else (-c0 / c1,)
    square = c1 * c1 - 4 * c2 * c0
    if square < 0:
        return ()
    half = -(c1 + (sqrt(square) if c1 >= 0 else -sqrt(square))) / 2
    return (half / c2,) if half == 0 else (half / c2, c0 / half)


def _bisect(value: Callable[[float], float], left: float, right: float) -> float:
    rising = value(right) > 0
    while left < (middle := (left + right) / 2) < right:
        if (value(middle) > 0) == rising:
            right = middle
        else:
            left = middle
    return left
