r"""The luff's tufts: at which incidence the flow at a tuft is gone, to leeward and to windward.

To leeward the bubble behind the luff has to reach the tuft, which it does not before the short
bubble of the nose has burst. To windward the air slows down along the hollow of the belly; its
laminar layer leaves the cloth there while the incidence is still above zero if the belly is deep.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from scipy.interpolate import RectBivariateSpline

from luffwright.air.boundary_layer import laminar
from luffwright.air.bubble import HEIGHTS, reaches
from luffwright.air.nose import BURSTS
from luffwright.arrays import FloatArray

BEHIND_LUFF, OF_CHORD = 0.25, 0.15
"""Where a luff tuft is sewn [m, share of the chord], whichever is less: common practice, from
memory."""
_PLACES = np.linspace(0.01, 0.40, 27)
_LOADS = np.linspace(0.0, 1.2, 13)
_INCIDENCES = np.concatenate([[0.002], np.linspace(0.005, 0.30, 60)])
_FINE = 1200
_REYNOLDS = 1e6
"""Any will do: where a laminar layer leaves does not depend on it."""


def tuft_place(chord: FloatArray, step: float = 0.0) -> FloatArray:
    """Return where a luff tuft stands.

    Parameters
    ----------
    chord : array
        [m]
    step : float
        Half the breadth of what stands ahead of the sail as a step: a mast. Its dead air is 7 of
        these long, and a tuft is sewn behind it. [m]

    Returns
    -------
    array
        Share of the chord. [-]

    Examples
    --------
    >>> tuft_place(np.array([5.0, 1.0])).round(3)
    array([0.05, 0.15])
    >>> tuft_place(np.array([5.0]), 0.06).round(3)
    array([0.084])
    """
    place = np.minimum(OF_CHORD, BEHIND_LUFF / chord)
    return np.asarray(np.clip(np.maximum(place, HEIGHTS * step / chord), 0.0, _PLACES[-1]))


def leeward_limit(place: FloatArray, camber: FloatArray, holds: FloatArray) -> FloatArray:
    r"""Return the incidence parameter above which the leeward flow at a tuft is gone.

    .. math:: a = \sqrt{(2 n)^2 + A_b(x, b)^2}

    Parameters
    ----------
    place : array
        Of the tuft behind the luff. [chords]
    camber : array
        Camber load. [-]
    holds : array
        What the nose holds, `n`. [rad]

    Returns
    -------
    array
        [rad]

    Examples
    --------
    A foil 24 mm thick, chord 4 m, tuft 25 cm behind it, 11 % deep:

    >>> leeward_limit(np.array([0.0625]), np.array([0.45]), np.array([0.0447])).round(3)
    array([0.095])
    """
    return reaches(place, camber, BURSTS * holds)


def _leaves(incidence: float, camber: float) -> float:
    """Return where the windward laminar layer leaves [chords], 1 if it does not.

    Velocity of thin-section theory, from the stagnation point behind the luff on.
    """
    x = 0.5 - 0.5 * np.cos(np.linspace(0.0, np.pi, _FINE))[1:-1]
    velocity = 1.0 - incidence * np.sqrt((1.0 - x) / x) - 2.0 * camber * np.sqrt(x * (1.0 - x))
    moving = velocity > 0.02
    if not np.any(moving):
        return 1.0
    first = int(np.argmax(moving))
    # Where a belly so deep that theory stops the air in it ends the run, the layer has left before.
    last = first + int(np.argmin(np.append(moving[first:], False)))
    run = x[first:last]
    return min(1.0, float(x[first] + laminar(run - run[0], velocity[first:last], _REYNOLDS).separates))


@cache
def _windward() -> RectBivariateSpline:
    """Return a spline of the windward limit by place and camber's load."""
    limits = []
    for load in _LOADS:
        # Stalled flow has no laminar layer to follow on sections so deep; their places keep order.
        at = np.maximum.accumulate([_leaves(float(a), float(load)) for a in _INCIDENCES])
        limits.append(np.interp(_PLACES, at, _INCIDENCES, left=0.0, right=_INCIDENCES[-1]))
    return RectBivariateSpline(_PLACES, _LOADS, np.array(limits).T, kx=1, ky=1)


def windward_limit(place: FloatArray, camber: FloatArray) -> FloatArray:
    """Return the incidence parameter below which the windward flow at a tuft is gone.

    Parameters
    ----------
    place : array
        Of the tuft behind the luff, up to 0.4. [chords]
    camber : array
        Camber load, up to 1.2. [-]

    Returns
    -------
    array
        Zero or more: below zero the luff itself sheds the air to windward. [rad]

    Notes
    -----
    Thwaites' laminar layer under the velocity of thin-section theory; behind its separation the
    air turns turbulent and comes back, a tuft of 0.25 m being too near the luff to see that.

    Examples
    --------
    Sections of 5, 10 and 14 % camber, tuft at 12 % of the chord:

    >>> windward_limit(np.full(3, 0.12), np.array([0.2, 0.4, 0.56])).round(3)
    array([0.   , 0.01 , 0.046])
    """
    load = np.clip(camber, 0.0, _LOADS[-1])
    return np.asarray(_windward().ev(np.clip(place, _PLACES[0], _PLACES[-1]), load))
