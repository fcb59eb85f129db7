"""Resistance of copper leads, at 20 C, and what it takes from a voltage.

Basis: annealed copper 1/58 ohm mm2/m (IEC 60028); gauges by diameter 0.127 mm x 92^((36-n)/39) (ASTM B258).
Real flexible wire lies somewhat above (IEC 60228), which the figures here do not add.
"""

from math import pi

COPPER_OHM_MM2_PER_M = 1 / 58
"""IEC 60028."""

AWG_36_MM = 0.127
AWG_STEP = 92 ** (1 / 39)
"""Ratio of successive diameters (ASTM B258)."""


def awg_diameter_mm(awg: int) -> float:
    """0000 is -3."""
    return AWG_36_MM * float(92 ** ((36 - awg) / 39))


def awg_area_mm2(awg: int) -> float:
    return pi / 4 * awg_diameter_mm(awg) ** 2


def conductor_ohm_per_m(*, mm2: float | None = None, awg: int | None = None) -> float | None:
    """One conductor; the given area before the gauge, None when neither is known."""
    if mm2 is not None:
        return COPPER_OHM_MM2_PER_M / mm2
    return None if awg is None else COPPER_OHM_MM2_PER_M / awg_area_mm2(awg)


def loop_resistance_ohm(length_mm: int, ohm_per_m: float) -> float:
    """There and back."""
    return 2 * length_mm / 1000 * ohm_per_m


def voltage_drop_mv(current_ma: float, ohm: float) -> float:
    return current_ma * ohm
