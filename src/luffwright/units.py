"""Units of the deck and of SI, met only at the edges.

Inside, everything is in metres, seconds, kilograms, newtons and radians. A name that holds another
unit ends in it (`wind_kn`, `heel_deg`, `load_kn` is kilonewtons where a load is meant).
"""

from __future__ import annotations

from math import pi

KNOT = 1852.0 / 3600.0
"""Metres a second in a knot: the nautical mile of 1852 m (International Extraordinary Hydrographic
Conference, Monaco 1929) in an hour."""

DEGREE = pi / 180.0
"""Radians in a degree."""

KILONEWTON = 1000.0
"""Newtons in a kilonewton."""

BAR = 1.0e5
"""Pascals in a bar, as a backstay's pump gauge shows it (100 kPa by definition)."""


def from_knots(value_kn: float) -> float:
    """Return m/s of knots.

    Parameters
    ----------
    value_kn : float
        Speed of boat or wind. [kn]

    Returns
    -------
    float
        [m/s]

    Examples
    --------
    >>> round(from_knots(36.0), 9)
    18.52
    """
    return value_kn * KNOT


def to_knots(value: float) -> float:
    """Return knots of m/s.

    Parameters
    ----------
    value : float
        Speed of boat or wind. [m/s]

    Returns
    -------
    float
        [kn]

    Examples
    --------
    >>> round(to_knots(18.52), 9)
    36.0
    """
    return value / KNOT


def from_degrees(value_deg: float) -> float:
    """Return radians of degrees.

    Parameters
    ----------
    value_deg : float
        Any angle. [°]

    Returns
    -------
    float
        [rad]

    Examples
    --------
    >>> round(from_degrees(90.0), 6)
    1.570796
    """
    return value_deg * DEGREE


def to_degrees(value: float) -> float:
    """Return degrees of radians.

    Parameters
    ----------
    value : float
        Any angle. [rad]

    Returns
    -------
    float
        [°]

    Examples
    --------
    >>> round(to_degrees(pi / 6), 9)
    30.0
    """
    return value / DEGREE


def from_kilonewtons(value_kn: float) -> float:
    """Return newtons of kilonewtons.

    Parameters
    ----------
    value_kn : float
        Load in a rope or stay. [kN]

    Returns
    -------
    float
        [N]

    Examples
    --------
    >>> from_kilonewtons(2.5)
    2500.0
    """
    return value_kn * KILONEWTON


def to_kilonewtons(value: float) -> float:
    """Return kilonewtons of newtons.

    Parameters
    ----------
    value : float
        Load in a rope or stay. [N]

    Returns
    -------
    float
        [kN]

    Examples
    --------
    >>> to_kilonewtons(2500.0)
    2.5
    """
    return value / KILONEWTON


def from_bar(value_bar: float) -> float:
    """Return pascals of bar.

    Parameters
    ----------
    value_bar : float
        Pressure on a pump gauge, above the air's. [bar]

    Returns
    -------
    float
        [Pa]

    Examples
    --------
    >>> from_bar(2.0)
    200000.0
    """
    return value_bar * BAR


def to_bar(value: float) -> float:
    """Return bar of pascals.

    Parameters
    ----------
    value : float
        Pressure, above the air's. [Pa]

    Returns
    -------
    float
        [bar]

    Examples
    --------
    >>> to_bar(200000.0)
    2.0
    """
    return value / BAR
