"""The flow of one thin section, side by side: bubble, boundary layers, where it leaves, its drag.

A check of the laws in `stall`, computed from the section's pressures; no solve calls it. The
pressures are those of attached flow: the layers do not act back on them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.air.boundary_layer import (
    Layer,
    laminar,
    profile_drag,
    turbulent,
    turns_turbulent,
)
from luffwright.air.bubble import LONGEST, bubble_drag, reaches
from luffwright.air.nose import BURSTS, NOSE, beyond_nose
from luffwright.arrays import FloatArray

REATTACHED = 2.0
"""Shape factor of the layer where the bubble has come back to the wall [-]: 3.5 in the bubble's
end, 2.4 and less a little behind it; an assumption."""
STIRRED = 1.5
"""Shape factor of a layer that has just turned turbulent [-]: 1.4 to 1.6 on plates (from memory).
"""
_FINE = 600


@dataclass(frozen=True)
class SectionFlow:
    """What the layers of a section do.

    `bubble` length and `separates`, place where the leeward flow leaves, shares of the chord (1 =
    at the leech); `skin` and `bubble_drag` coefficients.
    """

    bubble: float
    separates: float
    skin: float
    bubble_drag: float


def bubble_length(excess: float, camber: float) -> float:
    """Return how far behind the luff the bubble ends.

    Parameters
    ----------
    excess : float
        Incidence parameter beyond the one at which the nose's short bubble bursts. [rad]
    camber : float
        Camber load. [-]

    Returns
    -------
    float
        1 if it does not close. [chords]

    Examples
    --------
    >>> round(bubble_length(0.034, 0.0), 2), bubble_length(0.2, 0.0)
    (0.1, 1.0)
    """
    place = np.linspace(1e-4, LONGEST, 1200)
    needed = reaches(place, np.full_like(place, camber), np.zeros_like(place))
    if excess > needed[-1]:
        return 1.0
    return float(np.interp(excess, needed, place, left=0.0))


def _velocity(x: FloatArray, incidence: float, camber: float, radius: float) -> FloatArray:
    """Return the velocity on the side to which incidence and camber add, nose rounded (Riegels)."""
    root = np.sqrt(np.maximum(x, 1e-9))
    flat = incidence * np.sqrt(1.0 - x) / root
    bent = 2.0 * camber * root * np.sqrt(1.0 - x)
    return np.asarray((1.0 + flat + bent) * root / np.sqrt(np.maximum(x, 1e-9) + 0.5 * radius))


def _run(x: FloatArray, velocity: FloatArray, reynolds: float) -> tuple[Layer, float]:
    """Return the last layer of a side that starts laminar, and where along x it leaves."""
    at = x - x[0]
    first = laminar(at, velocity, reynolds)
    turns = turns_turbulent(first, velocity, reynolds)
    if turns >= at[-1]:
        return first, 1.0
    start = float(np.interp(turns, at, first.thickness))
    behind = np.linspace(turns, at[-1], _FINE)
    moved = np.interp(behind, at, velocity)
    layer = turbulent(behind, moved, reynolds, (start, STIRRED))
    return layer, min(1.0, float(x[0]) + layer.separates)


def _dragged(layer: Layer, velocity: FloatArray) -> float:
    """Return the drag of a side, taken where the layer leaves or at the leech."""
    last = int(np.searchsorted(layer.at, layer.separates)) - 1
    last = min(max(last, 0), len(layer.at) - 1)
    return profile_drag(
        float(layer.thickness[last]), float(layer.shape[last]), float(velocity[last])
    )


def _leeward(
    incidence: float, camber: float, reynolds: float, holds: float
) -> tuple[float, float, float]:
    """Return the bubble's length, where the flow leaves, and the skin's drag."""
    radius = 2.0 * (holds / NOSE) ** 2
    bursts = BURSTS * holds
    excess = float(beyond_nose(np.array(max(incidence, 0.0)), np.array(bursts)))
    length = bubble_length(excess, camber) if incidence > bursts else 0.0
    if length >= 1.0:
        return 1.0, 0.0, 0.0
    if length < 0.002:
        x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, _FINE))
        velocity = _velocity(x, max(incidence, 0.0), camber, radius)
        if radius == 0.0 and incidence <= 0.0:
            velocity = _velocity(x, 0.0, camber, 0.0)
            velocity[0] = 1.0
        layer, leaves = _run(x, velocity, reynolds)
        return 0.0, leaves, _dragged(layer, np.interp(layer.at, x, velocity))
    x = length + (1.0 - length) * np.linspace(0.0, 1.0, _FINE)
    velocity = _velocity(x, incidence, camber, radius)
    loss = float(bubble_drag(np.array(excess), np.array(camber)))
    start = 0.5 * loss / velocity[0] ** (0.5 * (REATTACHED + 5.0))
    start = max(start, 0.3 / np.sqrt(reynolds) * np.sqrt(length))
    layer = turbulent(x, velocity, reynolds, (start, REATTACHED))
    return length, min(1.0, layer.separates), max(_dragged(layer, velocity) - loss, 0.0)


def _windward(incidence: float, camber: float, reynolds: float) -> float:
    x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, 4 * _FINE))
    velocity = _velocity(x, -incidence, -camber, 0.0)
    if incidence == 0.0:
        velocity[0] = 1.0
    first = int(np.flatnonzero(velocity > 0.02)[0])
    x, velocity = x[first::4], velocity[first::4]
    layer, _ = _run(x, velocity, reynolds)
    return _dragged(layer, np.interp(layer.at, x - x[0], velocity))


def section_flow(
    incidence: float, camber: float, reynolds: float, holds: float = 0.0
) -> SectionFlow:
    """Return where the flow leaves a thin arched section, and what its skin and bubble drag.

    Parameters
    ----------
    incidence : float
        Incidence parameter A0, zero or more. [rad]
    camber : float
        Camber load A1. [-]
    reynolds : float
        Of the chord. [-]
    holds : float
        What the nose holds without a bubble; 0 = a sharp luff. [rad]

    Returns
    -------
    SectionFlow

    Examples
    --------
    >>> flow = section_flow(0.03, 0.4, 1e6)
    >>> round(flow.bubble, 2), flow.separates > 0.8
    (0.06, True)
    """
    length, leaves, skin = _leeward(incidence, camber, reynolds, holds)
    loss = 0.0
    if incidence > 0.0:
        excess = beyond_nose(np.array(incidence), np.array(BURSTS * holds))
        loss = float(bubble_drag(excess, np.array(camber)))
    return SectionFlow(length, leaves, skin + _windward(incidence, camber, reynolds), loss)
