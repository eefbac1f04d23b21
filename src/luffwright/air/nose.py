r"""What a round luff holds: where the flow leaves its nose, and where the nose loses its suction.

Near the luff any thin section is a parabola of the nose's radius at incidence. Beyond a first limit
a laminar layer leaves it and comes back at once, in a bubble a few nose radii long that takes
nothing of the suction. Beyond a second one that short bubble bursts, and what suction comes on top
is lost.
"""

from __future__ import annotations

import numpy as np

from luffwright.air import stall_kernel
from luffwright.arrays import FloatArray, each

NOSE = 1.155
"""Incidence over the root of a parabola's curvature at which a laminar layer leaves its nose [-]
(Werle and Davis, J. Appl. Mech. 39, 1972, from memory)."""
BURSTS = stall_kernel.BURSTS
"""Incidence at which the short bubble bursts, over that at which the layer leaves the nose [-]. The
arched plate 417a (nose 1.5 % of the chord, leaves at 0.100) lifts most and its moment jumps at
0.19 to 0.21 (Lyon and others 1997); NACA 64A006 (nose 0.246 %, leaves at 0.040) has its break of
lift at 4.5 to 5 degrees, 0.079 to 0.087 (McCullough and Gault, NACA TN 2502, 1951, from memory).
"""
THICKEST = 0.015
"""Radius of the thickest nose that this was measured on [chords]; a thicker one counts as this."""


def nose_holds(radius: FloatArray) -> FloatArray:
    r"""Return the incidence parameter up to which the flow keeps to a round nose.

    .. math:: A_n = 1.155 \sqrt{r / 2}

    A laminar layer leaves a parabola at one incidence, whatever the Reynolds number.

    Parameters
    ----------
    radius : array
        Of the nose; more than 0.015 counts as 0.015. [chords]

    Returns
    -------
    array
        [rad]

    Examples
    --------
    A foil 24 mm thick at the luff of a sail 4 m along the chord:

    >>> round(float(nose_holds(np.array(0.012 / 4.0))), 3)
    0.045
    """
    return np.asarray(NOSE * np.sqrt(0.5 * np.minimum(radius, THICKEST)))


def beyond_nose(incidence: FloatArray, holds: FloatArray) -> FloatArray:
    r"""Return the incidence that is left beyond what a nose holds.

    .. math:: A_b^2 = A_0^2 - A_n^2

    The nose goes on carrying the suction that it can hold, and suction goes with the square.

    Parameters
    ----------
    incidence : array
        Incidence parameter, zero or more. [rad]
    holds : array
        What the nose holds, up to its first limit or its second. [rad]

    Returns
    -------
    array
        Smooth through the limit. [rad]

    Examples
    --------
    >>> round(float(beyond_nose(np.array(0.05), np.array(0.03))), 3)
    0.04
    """
    return np.asarray(each(stall_kernel.beyond_each, incidence, holds))
