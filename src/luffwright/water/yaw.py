r"""Helm: the turning moments of sails, fins and hull, and the rudder angle that balances them.

All moments are about the vertical through the origin, in the level frame: positive turns the bow
to leeward (bears off), negative to windward (rounds up)::

    sails    x F_y - y F_x     the drive, at the lever y that heel gives it, rounds the boat up
    fins     keel near the mast, rudder far aft
    hull     a body that moves at an angle turns further across its way: it rounds up with leeway
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from luffwright.water.fluid import Water
from luffwright.water.foil import SEA_WATER
from luffwright.water.hull import Hull
from luffwright.water.side_force import Sailing, Vector, side_force

HELM_BAND = math.radians(4.0)
"""Of the rudder angle as computed from figures alone [rad]: the hull's heeled shape and the
sails' centre are not known better."""
ANCHORED_BAND = math.radians(2.0)
"""Of the rudder angle once one has been seen on board [rad]: as well as it is read there."""
GREATEST_RUDDER = math.radians(35.0)
_STEPS, _SETTLED = 60, 1e-7
_FULLNESS = 8.0 / 15.0

Status = Literal["balanced", "rudder too small"]


@dataclass(frozen=True)
class Applied:
    """A force [N] and the point where it acts [m], both in the level frame."""

    force: Vector
    point: Vector


@dataclass(frozen=True)
class YawMoments:
    """Turning moments of `sails` (and all else that the air pushes), `fins` and `hull` [N m]."""

    sails: float
    fins: float
    hull: float

    @property
    def total(self) -> float:
        """Sum [N m]: positive bears off, negative rounds up."""
        return self.sails + self.fins + self.hull


@dataclass(frozen=True)
class Helm:
    """The rudder angle that balances, `low` to `high` its band, positive with weather helm [rad].

    `computed`: before it was moved to what the crew once saw; `moments`: there [N m]; `per_rudder`:
    what a little more rudder adds [N m/rad].
    """

    rudder: float
    low: float
    high: float
    computed: float
    moments: YawMoments
    per_rudder: float
    status: Status


def spheroid_inertia(fineness: float) -> tuple[float, float]:
    r"""Return the added mass of a long spheroid, over the mass of its water.

    .. math:: k_1 = \frac{\alpha_0}{2-\alpha_0},\; k_2 = \frac{\beta_0}{2-\beta_0},\quad
        \alpha_0 = \frac{2(1-e^2)}{e^3}\left(\tfrac12\ln\frac{1+e}{1-e} - e\right),\;
        \beta_0 = 1 - \tfrac12\alpha_0

    Parameters
    ----------
    fineness : float
        Length over diameter, above 1. [-]

    Returns
    -------
    along, across : float
        [-]

    References
    ----------
    .. [1] Lamb, *Hydrodynamics*, 6th edition, 1932, articles 114 and 373.

    Examples
    --------
    Almost a sphere, which carries half of its own water either way:

    >>> [round(value, 2) for value in spheroid_inertia(1.001)]
    [0.5, 0.5]
    """
    squared = 1.0 - 1.0 / fineness**2
    e = math.sqrt(squared)
    series = math.atanh(e) - e
    along = 2.0 * (1.0 - squared) / e**3 * series
    across = 1.0 - 0.5 * along
    return along / (2.0 - along), across / (2.0 - across)


def hull_yaw(hull: Hull, sailing: Sailing, water: Water = SEA_WATER) -> float:
    r"""Return the moment by which the hull itself turns further across its way.

    .. math:: N = -(k_2 - k_1)\,m\,V^2 \sin\lambda\cos\lambda,\qquad
        m = \rho\,\frac{\pi}{2}T_c^2\cdot\frac{8}{15}L

    Parameters
    ----------
    hull : Hull
        Its sections are taken as half circles of the hull's draught, growing as a parabola along
        the waterline; two hulls count twice.
    sailing : Sailing
    water : Water

    Returns
    -------
    float
        Negative with leeway: rounds up. [N m]

    Notes
    -----
    Holds for: slender hulls in flow that stays attached. A heeled hull is curved in plan and turns
    by itself; no published formula for that could be read, so the band on the helm carries it.

    References
    ----------
    .. [1] Munk, *The Aerodynamic Forces on Airship Hulls*, NACA Report 184, 1924.
    """
    draught = hull.draught_body
    hulls = 2 if hull.kind == "catamaran" else 1
    carried = hulls * water.density * 0.5 * math.pi * draught**2 * _FULLNESS * hull.length_waterline
    along, across = spheroid_inertia(max(0.5 * hull.length_waterline / draught, 1.05))
    angles = math.sin(sailing.leeway) * math.cos(sailing.leeway)
    return -(across - along) * carried * sailing.speed**2 * angles


def applied_yaw(applied: Iterable[Applied]) -> float:
    r"""Return the turning moment of forces at their points.

    .. math:: N = \sum\left(x F_y - y F_x\right)

    Parameters
    ----------
    applied : iterable of Applied
        Of sails, mast, hull in the wind: all that the air pushes.

    Returns
    -------
    float
        [N m]

    Examples
    --------
    A drive of 1000 N whose point has gone 2 m to leeward rounds the boat up:

    >>> applied_yaw([Applied((1000.0, 0.0, 0.0), (0.0, 2.0, 6.0))])
    -2000.0
    """
    return sum(
        entry.point[0] * entry.force[1] - entry.point[1] * entry.force[0] for entry in applied
    )


def yaw_moments(
    hull: Hull, sailing: Sailing, applied: Iterable[Applied], water: Water = SEA_WATER
) -> YawMoments:
    """Return the turning moments of sails, fins and hull.

    Parameters
    ----------
    hull : Hull
    sailing : Sailing
    applied : iterable of Applied
        Of sails, mast, hull in the wind, and of the hull's drag where its lever matters.
    water : Water

    Returns
    -------
    YawMoments
    """
    return YawMoments(
        applied_yaw(applied),
        side_force(hull, sailing, water).moment[2],
        hull_yaw(hull, sailing, water),
    )


def _fins(hull: Hull, sailing: Sailing, rudder: float, water: Water) -> float:
    return side_force(hull, replace(sailing, rudder=rudder), water).moment[2]


def _strongest(hull: Hull, sailing: Sailing, water: Water) -> tuple[float, float]:
    """Return the rudder angles that turn the boat up and off as hard as she can be turned."""
    angles = [math.radians(angle) for angle in range(-35, 36)]
    moments = [_fins(hull, sailing, angle, water) for angle in angles]
    return angles[moments.index(min(moments))], angles[moments.index(max(moments))]


def _balanced(hull: Hull, sailing: Sailing, rest: float, water: Water) -> tuple[float, Status]:
    """Return the rudder at which the fins undo all other moments, by secants kept in a bracket."""
    low, high = _strongest(hull, sailing, water)
    below = _fins(hull, sailing, low, water) + rest
    above = _fins(hull, sailing, high, water) + rest
    if below >= 0.0 or above <= 0.0:
        return (low if below >= 0.0 else high), "rudder too small"
    for step in range(_STEPS):
        middle = (
            0.5 * (low + high) if step % 3 == 2 else low - below * (high - low) / (above - below)
        )
        found = _fins(hull, sailing, middle, water) + rest
        low, below, high, above = (
            (middle, found, high, above) if found < 0.0 else (low, below, middle, found)
        )
        if high - low < _SETTLED or found == 0.0:
            break
    return low - below * (high - low) / (above - below), "balanced"


def helm(
    hull: Hull,
    sailing: Sailing,
    applied: Iterable[Applied],
    anchor: float | None = None,
    water: Water = SEA_WATER,
) -> Helm:
    """Return the rudder angle that balances the boat, with its band.

    Parameters
    ----------
    hull : Hull
    sailing : Sailing
        Its own rudder angle is not used.
    applied : iterable of Applied
        Of sails, mast, hull in the wind.
    anchor : float, optional
        What `anchor_of` says: how far the rudder that the crew saw lay from the computed one. [rad]
    water : Water

    Returns
    -------
    Helm
        Absolute within 4°, or 2° when anchored; the difference between two trims is better.
    """
    forces = tuple(applied)
    rest = applied_yaw(forces) + hull_yaw(hull, sailing, water)
    angle, status = _balanced(hull, sailing, rest, water)
    moments = yaw_moments(hull, replace(sailing, rudder=angle), forces, water)
    small = 1e-4
    more = _fins(hull, sailing, angle + small, water)
    less = _fins(hull, sailing, angle - small, water)
    shown = angle + (anchor or 0.0)
    band = HELM_BAND if anchor is None else ANCHORED_BAND
    slope = (more - less) / (2.0 * small)
    return Helm(shown, shown - band, shown + band, angle, moments, slope, status)


def anchor_of(observed: float, computed: float) -> float:
    """Return by how much every helm of this boat is to be moved to meet the one seen.

    Parameters
    ----------
    observed : float
        Rudder angle that the crew saw, positive with weather helm. [rad]
    computed : float
        Rudder angle for the same wind and trim, not anchored. [rad]

    Returns
    -------
    float
        [rad]
    """
    return observed - computed
