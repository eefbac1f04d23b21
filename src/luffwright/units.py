"""Units of the deck and of SI, met only at the edges."""

from __future__ import annotations

KNOT = 0.514444
"""Metres a second in a knot (1852 m an hour exactly, International Hydrographic Conference 1929)."""


def from_knots(value_kn: float) -> float:
    """Return m/s.

    Examples
    --------
    >>> round(from_knots(10.0), 3)
    5.144
    """
    return value_kn * KNOT


def to_knots(value: float) -> float:
    """Return knots of m/s.

    Examples
    --------
    >>> round(to_knots(5.14444), 3)
    10.0
    """
    return value / KNOT
