"""The sea: how high and how long the waves are that a wind raises, and how a boat meets them.

Angles of waves are from the bow to where the waves come from, as for the wind: 0 = head sea.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from luffwright.arrays import FloatArray
from luffwright.errors import InputError

GRAVITY = 9.81
SeaWord = Literal["flat", "slight", "moderate", "rough"]
SEA_HEIGHTS: dict[SeaWord, float] = {"flat": 0.1, "slight": 0.5, "moderate": 1.2, "rough": 2.5}
"""Significant wave heights that the words stand for here [m]."""
FULL_HEIGHT, FULL_PERIOD = 0.243, 8.13
"""Of a fully developed sea, without dimension: g H / U² and g T / U."""
_HEIGHT, _PERIOD, _DURATION = 0.0016, 0.286, 68.8
_LEAST_WIND, _LEAST_PERIOD = 0.1, 0.3
"""So that a calm has a period too [m/s], [s]."""


@dataclass(frozen=True)
class Sea:
    """Significant wave height H_m0 [m] and peak period T_p [s] of one wind sea."""

    height: float
    period: float

    @property
    def peak(self) -> float:
        """Return the angular frequency of the spectrum's peak [rad/s]."""
        return 2.0 * math.pi / self.period

    @property
    def variance(self) -> float:
        """Return the variance of the surface's height: (H / 4)² [m²]."""
        return (0.25 * self.height) ** 2


def _checked_wind(wind: float) -> float:
    if wind <= 0.0:
        raise InputError("wind_kn", wind, "must be above 0 to raise a sea", "give the wind's speed")
    return wind


def wind_sea(wind: float, fetch: float, duration: float = math.inf) -> Sea:
    r"""Return the sea that a wind has raised over a stretch of water in a time.

    .. math:: \frac{g H}{U^2} = 0.0016\,F_*^{1/2},\quad \frac{g T}{U} = 0.286\,F_*^{1/3},\quad
        F_* = \min\left(\frac{g F}{U^2}, \left(\frac{g t / U}{68.8}\right)^{3/2}\right)

    Parameters
    ----------
    wind : float
        At 10 m, steady, :math:`U`. [m/s]
    fetch : float
        Open water upwind, :math:`F`. [m]
    duration : float
        For which it has blown, :math:`t`. [s]

    Returns
    -------
    Sea

    Notes
    -----
    Deep water. Full development caps the two at 0.243 and 8.13. No swell from elsewhere.

    References
    ----------
    .. [1] Kamphuis, *Introduction to Coastal Engineering and Management*, World Scientific, 2000:
       the JONSWAP relations, as in two course texts.

    Examples
    --------
    >>> sea = wind_sea(10.0, 50_000.0)
    >>> round(sea.height, 2), round(sea.period, 1)
    (1.14, 5.0)
    """
    speed = _checked_wind(wind)
    if fetch <= 0.0 or duration <= 0.0:
        return Sea(0.0, _LEAST_PERIOD)
    reach = min(GRAVITY * fetch / speed**2, (GRAVITY * duration / speed / _DURATION) ** 1.5)
    return Sea(
        min(_HEIGHT * reach ** (1.0 / 2.0), FULL_HEIGHT) * speed**2 / GRAVITY,
        min(_PERIOD * reach ** (1.0 / 3.0), FULL_PERIOD) * speed / GRAVITY,
    )


def sea_of_height(height: float, wind: float) -> Sea:
    r"""Return the sea of a significant height in a wind, its period from the fetch it took.

    .. math:: T = 0.286 \left(\frac{g H}{0.0016\,U^2}\right)^{2/3} \frac Ug

    Parameters
    ----------
    height : float
        Significant, :math:`H`. [m]
    wind : float
        At 10 m, :math:`U`. [m/s]

    Returns
    -------
    Sea

    Notes
    -----
    The relation of `wind_sea` with the fetch left out. Where the wind is too light to have raised
    the sea at any fetch, the least wind that could have is taken: an old sea, longer and lower.

    Examples
    --------
    >>> round(sea_of_height(0.5, 7.7).period, 2), round(sea_of_height(0.5, 3.0).period, 2)
    (3.12, 3.72)
    """
    if height < 0.0:
        raise InputError("wave_height_m", height, "must be 0 or more", "give the waves' height")
    least = math.sqrt(GRAVITY * height / FULL_HEIGHT)
    speed = max(wind, least, _LEAST_WIND)
    share = GRAVITY * height / (_HEIGHT * speed**2)
    scaled = min(_PERIOD * share ** (2.0 / 3.0), FULL_PERIOD)
    return Sea(height, max(scaled * speed / GRAVITY, _LEAST_PERIOD))


def named_sea(word: SeaWord, wind: float) -> Sea:
    """Return the sea of a word in a wind.

    Parameters
    ----------
    word : str
        "flat", "slight", "moderate" or "rough": 0.1, 0.5, 1.2 and 2.5 m.
    wind : float
        At 10 m. [m/s]

    Returns
    -------
    Sea

    Notes
    -----
    The heights are near the lower bounds of smooth, slight, moderate and rough in the sea state
    code of the World Meteorological Organization: 0.1, 0.5, 1.25 and 2.5 m (from memory).

    Examples
    --------
    >>> named_sea("moderate", 8.0).height
    1.2
    """
    return sea_of_height(SEA_HEIGHTS[word], wind)


def wave_number(frequency: float, depth: float = math.inf) -> float:
    r"""Return the wave number of waves of small height.

    .. math:: \omega^2 = g k \tanh k d

    Parameters
    ----------
    frequency : float
        Angular, in a frame at rest, :math:`\omega`. [rad/s]
    depth : float
        Of the water, :math:`d`. [m]

    Returns
    -------
    float
        [rad/m]

    Notes
    -----
    Airy's linear waves; Newton's method, to the last digits.

    Examples
    --------
    A wave of 4 s is 25 m long over deep water:

    >>> round(2 * math.pi / wave_number(2 * math.pi / 4.0), 1)
    25.0
    """
    deep = frequency**2 / GRAVITY
    if math.isinf(depth) or deep * depth > 20.0:
        return deep
    k = deep / math.sqrt(math.tanh(deep * depth))
    for _ in range(20):
        slope = math.tanh(k * depth)
        k -= (k * slope - deep) / (slope + k * depth * (1.0 - slope**2))
    return k


def encounter_frequency(
    frequency: FloatArray | float, speed: float, angle: float
) -> FloatArray | float:
    r"""Return the angular frequency at which a boat meets deep-water waves.

    .. math:: \omega_e = \omega + \frac{\omega^2 V}{g}\cos\beta

    Parameters
    ----------
    frequency : float or array
        Of the waves, :math:`\omega`. [rad/s]
    speed : float
        Of the boat, :math:`V`. [m/s]
    angle : float
        From the bow to where the waves come from, :math:`\beta`; 0 = head sea. [rad]

    Returns
    -------
    float or array
        Negative where she overtakes the waves. [rad/s]

    Examples
    --------
    Waves of 4 s at 3 m/s, head sea:

    >>> round(encounter_frequency(2 * math.pi / 4.0, 3.0, 0.0), 3)
    2.325
    """
    return frequency + frequency**2 * speed / GRAVITY * math.cos(angle)


def spectrum(sea: Sea, frequency: FloatArray) -> FloatArray:
    r"""Return the energy of a wind sea by frequency, per angular frequency.

    .. math:: S(\omega) = \frac5{16}\frac{H^2}{\omega_p}\left(\frac{\omega_p}\omega\right)^5
        \exp\left(-\frac54\left(\frac{\omega_p}\omega\right)^4\right)

    Parameters
    ----------
    sea : Sea
    frequency : array
        Angular, above 0. [rad/s]

    Returns
    -------
    array
        Its integral is (H / 4)². [m² s]

    Notes
    -----
    Two-parameter spectrum (Bretschneider, ITTC 1978). A sea short of fetch is more peaked.

    References
    ----------
    .. [1] Bretschneider, *Wave variability and wave spectra for wind-generated gravity waves*,
       Beach Erosion Board technical memorandum 118, 1959 (from memory).

    Examples
    --------
    >>> steps = np.linspace(0.2, 40.0, 40_000)
    >>> density = spectrum(Sea(2.0, 6.0), steps)
    >>> round(4 * float(np.sqrt(density.sum() * (steps[1] - steps[0]))), 3)
    2.0
    """
    ratio = sea.peak / frequency
    return 5.0 / 16.0 * sea.height**2 / sea.peak * ratio**5 * np.exp(-1.25 * ratio**4)
