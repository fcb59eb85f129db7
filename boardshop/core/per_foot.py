"""Capacitance of cable per metre and per foot: the international foot of 1959 is 0.3048 m exactly."""

from fractions import Fraction

from boardshop.core.printing import round_to

FOOT_M = Fraction("0.3048")


def per_metre(pf_per_foot: float) -> float:
    """pF/m with one decimal: 30 pF/ft are 98.4 pF/m."""
    return round_to(float(Fraction(pf_per_foot) / FOOT_M), 1)


def per_foot(pf_per_metre: float) -> float:
    """pF/ft with one decimal: 98 pF/m are 29.9 pF/ft."""
    return round_to(float(Fraction(pf_per_metre) * FOOT_M), 1)
