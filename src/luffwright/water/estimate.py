"""First estimates of speed, heel and leeway, for when nobody gives them.

Estimates of our own, in the range that cruising boats show (common practice): good enough for the
apparent wind to be about right, never told as a speed. A balance of the boat takes their place.
"""

from __future__ import annotations

import numpy as np

from luffwright.water.hull import Hull

GRAVITY = 9.81
AIR_DENSITY = 1.225
_FROUDE = {"monohull": 0.40, "catamaran": 0.50}
_RISE = 3.8
_OF_THE_WIND = 0.75
"""Speed in light air over the true wind: no cruising boat does much better (common practice)."""
_ANGLES = np.radians([0.0, 30.0, 45.0, 60.0, 90.0, 110.0, 135.0, 160.0, 180.0])
_SHARES = np.array([0.3, 0.7, 0.88, 0.98, 1.05, 1.05, 1.0, 0.85, 0.78])
_SIDE_COEFFICIENT = 1.2


def righting_moment(hull: Hull, heel: float) -> float:
    """Return what stands the boat up at a heel [N m].

    Parameters
    ----------
    hull : Hull
    heel : float
        [rad]

    Returns
    -------
    float
    """
    lever = float(np.interp(heel, hull.righting_heel, hull.righting_lever))
    return GRAVITY * hull.displacement * lever


def first_speed(hull: Hull, wind: float, angle: float) -> float:
    r"""Return a first estimate of speed [m/s] in a true wind.

    .. math:: V = \min\left(F \sqrt{g L}\, (1 - e^{-W/3.8}),\ \tfrac34 W\right) s(\beta)

    Parameters
    ----------
    hull : Hull
    wind : float
        True, at 10 m. [m/s]
    angle : float
        Bow to true wind. [rad]

    Returns
    -------
    float
    """
    top = _FROUDE[hull.kind] * float(np.sqrt(GRAVITY * hull.length_waterline))
    whole = min(top * (1.0 - float(np.exp(-wind / _RISE))), _OF_THE_WIND * wind)
    return whole * float(np.interp(angle, _ANGLES, _SHARES))


def first_leeway(angle: float) -> float:
    """Return a first estimate of leeway [rad]: 5° hard on the wind, fading towards the run.

    Parameters
    ----------
    angle : float
        Bow to true wind. [rad]

    Returns
    -------
    float
    """
    return float(np.radians(5.0) * np.cos(0.5 * angle) ** 4)


def first_heel(hull: Hull, area: float, height: float, apparent: float, angle: float) -> float:
    """Return a first estimate of heel [rad]: side force of the sails against the righting moment.

    Parameters
    ----------
    hull : Hull
    area : float
        Of all sails set. [m²]
    height : float
        Of their middle above the centre of the keel's force. [m]
    apparent : float
        Apparent wind. [m/s]
    angle : float
        Bow to apparent wind. [rad]

    Returns
    -------
    float
        At most the heel of the greatest righting moment, or 25° if that is less.
    """
    press = 0.5 * AIR_DENSITY * apparent**2 * area * _SIDE_COEFFICIENT
    push = press * max(float(np.cos(angle)), 0.1) * height
    most = min(hull.righting_heel[int(np.argmax(hull.righting_lever))], float(np.radians(25.0)))
    heels = np.linspace(0.0, most, 200)
    righting = np.array([righting_moment(hull, heel) for heel in heels])
    held = righting >= push * np.cos(heels) ** 2
    return float(heels[int(np.argmax(held))]) if held.any() else most
