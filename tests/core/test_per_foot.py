"""Capacitance per metre and per foot."""

import pytest

from boardshop.core.per_foot import per_foot, per_metre


@pytest.mark.parametrize(("foot", "metre"), [(30, 98.4), (1, 3.3), (6, 19.7), (0, 0.0), (121.92, 400.0)])
def test_per_foot_to_per_metre(foot: float, metre: float) -> None:
    """30 pF/ft = 98.4 pF/m (calculation: 30 / 0.3048 = 98.425)."""
    assert per_metre(foot) == metre


@pytest.mark.parametrize(("metre", "foot"), [(98, 29.9), (100, 30.5), (400, 121.9), (20, 6.1)])
def test_per_metre_to_per_foot(metre: float, foot: float) -> None:
    assert per_foot(metre) == foot
