r"""The luff's tufts: at which incidence the flow at a tuft is gone, to leeward and to windward."""

from __future__ import annotations

import numpy as np

from luffwright.air.bubble import HEIGHTS, LONGEST, reaches
from luffwright.air.nose import BURSTS
from luffwright.arrays import FloatArray

BEHIND_LUFF, OF_CHORD = 0.25, 0.15
"""Where a luff tuft is sewn [m, share of the chord], whichever is less: common practice, from
memory."""
LUFF_LIFTS = 0.0
"""Incidence parameter below which the windward flow is gone behind the luff [rad]: the windward
edge of the drag bucket of two plates 6 % deep lies at -0.006 and +0.009 (417a and BW-3, Lyon and
others 1997), whatever their noses. The bubble of a sharp luff alone would reach a tuft at -0.03,
the laminar layer along the hollow of a belly 12 to 16 % deep leave it at +0.01 to +0.05; nothing
measured tells how deep bellies lie between the two."""


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
    return np.asarray(np.clip(np.maximum(place, HEIGHTS * step / chord), 0.0, LONGEST))


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
