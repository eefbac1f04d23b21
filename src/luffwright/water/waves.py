"""What waves cost a sailing boat in resistance: an estimate by a stated scaling."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from luffwright.water.hull import Hull
from luffwright.water.sea import GRAVITY, Sea, spectrum

ADDED_SHARE = 1.0
"""Added resistance over weight times (H / L)² where all waves are of the worst length, head sea."""
BAND = 3.0
"""Factor either way within which the estimate is meant."""
_WORST, _WIDTH = 1.2, 0.5
"""Worst wave length over waterline length, and the spread of its logarithm about it."""
_LENGTHS = np.geomspace(0.1, 30.0, 160)


@dataclass(frozen=True)
class AddedResistance:
    """Mean resistance added by waves, and the band it is meant within [N]. An estimate."""

    resistance: float
    low: float
    high: float


def response(length_ratio: float) -> float:
    r"""Return how much waves of one length hold the boat back against those of the worst length.

    .. math:: r = \exp\left(-\frac{\ln^2\left(\lambda/(1.2 L)\right)}{2\cdot 0.5^2}\right)

    Parameters
    ----------
    length_ratio : float
        Length of wave over waterline, :math:`\lambda/L`. [-]

    Returns
    -------
    float
        0 to 1. [-]

    Notes
    -----
    Own curve. Short waves leave her still, on long ones she rides; between, she pitches most.
    """
    return math.exp(-0.5 * (math.log(length_ratio / _WORST) / _WIDTH) ** 2)


_RESPONSE = np.array([response(float(at)) for at in _LENGTHS])


def heading_share(angle: float) -> float:
    r"""Return the share of the head sea's added resistance: 1 ahead, 1/4 abeam, 0 astern.

    .. math:: \left(\frac{1+\cos\beta}2\right)^2

    Parameters
    ----------
    angle : float
        From the bow to where the waves come from, :math:`\beta`. [rad]

    Returns
    -------
    float
        [-]

    Notes
    -----
    Own curve. Surfing, the gain of waves from astern, is not in it.

    Examples
    --------
    >>> [round(heading_share(math.radians(at)), 2) for at in (0, 45, 90, 180)]
    [1.0, 0.73, 0.25, 0.0]
    """
    return (0.5 * (1.0 + math.cos(angle))) ** 2


def added_resistance(sea: Sea, hull: Hull, angle: float) -> AddedResistance:
    r"""Return an estimate of the mean resistance that waves add.

    .. math:: R = 16\,c\,\frac W{L^2} \left(\frac{1+\cos\beta}2\right)^2
        \int_0^\infty r(\lambda/L)\, S(\omega)\,d\omega,\quad c = 1

    Parameters
    ----------
    sea : Sea
    hull : Hull
        Its displacement (weight :math:`W`) and waterline :math:`L` count.
    angle : float
        From the bow to where the waves come from, :math:`\beta`. [rad]

    Returns
    -------
    AddedResistance

    Notes
    -----
    **An estimate of our own**, within a factor of 3; a speed it enters carries that band. Its form
    follows published findings: it grows as the square of the waves' height, with displacement over
    length (Gerritsma, Keuning and Onnink 1992, abstract), and is greatest where waves are about as
    long as the boat. The constant makes it 0.4 kN for a boat of 10 m and 7 t in a short head sea of
    0.9 m, the size towed yacht models show (from memory); no printed coefficient stood behind it.
    The ships' formula of ISO 15016 (STAwave-2, from memory), far outside its range here, gives
    several times as much. Speed, gyradius and the shape of the bow are left out; two hulls are
    taken as one of the same weight.

    References
    ----------
    .. [1] Gerritsma, Keuning and Onnink, *Sailing yacht performance in calm water and in waves*,
       report 925-P, Delft, 1992 (abstract).

    Examples
    --------
    >>> hull = Hull("monohull", 11.5, 10.0, 3.6, 3.0, 0.5, 1.9, 7000.0, 0.0, 5.0, (0.0,), (0.0,))
    >>> round(added_resistance(Sea(0.9, 3.0), hull, 0.0).resistance, -1)
    360.0
    """
    length = hull.length_waterline
    frequency = np.sqrt(2.0 * np.pi * GRAVITY / (_LENGTHS * length))
    energy = float(np.trapezoid((_RESPONSE * spectrum(sea, frequency))[::-1], frequency[::-1]))
    scale = 16.0 * ADDED_SHARE * GRAVITY * hull.displacement / length**2
    found = scale * heading_share(angle) * energy
    return AddedResistance(found, found / BAND, found * BAND)
