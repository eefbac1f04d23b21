"""Wind over water: how it grows with height."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.arrays import FloatArray

KARMAN = 0.4
CHARNOCK = 0.011
GRAVITY = 9.81
VISCOSITY = 1.5e-5
REFERENCE_HEIGHT = 10.0


@dataclass(frozen=True)
class WindProfile:
    """Neutral wind over open water: speed at 10 m [m/s], friction velocity [m/s], roughness [m].

    `exponent` > 0 takes the power law with that exponent in place of the logarithm.
    """

    speed: float
    friction: float
    roughness: float
    exponent: float = 0.0


def wind_profile(speed: float, exponent: float = 0.0) -> WindProfile:
    r"""Return the profile of a wind measured at 10 m.

    .. math:: U(z) = \frac{u_*}{\kappa}\ln\frac{z}{z_0},\quad
        z_0 = \alpha \frac{u_*^2}{g} + 0.11\frac{\nu}{u_*}

    Parameters
    ----------
    speed : float
        At 10 m. [m/s]
    exponent : float
        Of a power law to use instead; 0 = logarithm. [-]

    Returns
    -------
    WindProfile

    Notes
    -----
    Charnock's roughness with a smooth-flow term; holds for neutral air over open sea, 1-30 m/s.

    References
    ----------
    .. [1] Charnock, *Wind stress on a water surface*, Q. J. Royal Meteorological Society 81, 1955.
    .. [2] Smith, *Coefficients for sea surface wind stress*, J. Geophysical Research 93, 1988
       (alpha 0.011, smooth term 0.11).

    Examples
    --------
    >>> round(wind_profile(10.0).roughness * 1000, 2)
    0.15
    """
    friction = 0.035 * max(speed, 0.1)
    for _ in range(30):
        roughness = CHARNOCK * friction**2 / GRAVITY + 0.11 * VISCOSITY / friction
        friction = KARMAN * max(speed, 0.1) / np.log(REFERENCE_HEIGHT / roughness)
    return WindProfile(speed, float(friction), float(roughness), exponent)


def wind_at(profile: WindProfile, height: FloatArray) -> FloatArray:
    """Return the wind's speed at heights above the water.

    Parameters
    ----------
    profile : WindProfile
    height : array
        Above the water; taken as at least 0.2 m. [m]

    Returns
    -------
    array
        Speed. [m/s]

    Examples
    --------
    >>> wind_at(wind_profile(8.0), np.array([10.0])).round(6)
    array([8.])
    """
    z = np.maximum(height, 0.2)
    if profile.exponent > 0.0:
        return profile.speed * (z / REFERENCE_HEIGHT) ** profile.exponent
    return np.maximum(profile.friction / KARMAN * np.log(z / profile.roughness), 0.0)
