"""A smooth curve through tabulated values: no corner, no overshoot, level at its ends."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from scipy.interpolate import CubicHermiteSpline, PchipInterpolator

from luffwright.arrays import FloatArray


def smooth_through(
    nodes: FloatArray, values: FloatArray, at: FloatArray, *, goes_on: bool = False
) -> FloatArray:
    """Return a curve through tabulated values, with a continuous slope everywhere.

    Parameters
    ----------
    nodes : (n,) array
        Where the values stand, ascending, in any unit. [any]
    values : (n,) array
        In any unit. [any]
    at : array
        Where to read the curve, in the unit of `nodes`. [any]
    goes_on : bool
        Beyond the last node: along the tangent there; else held, with a level tangent.

    Returns
    -------
    array
        In the unit of `values`. Before the first node its value, with a level tangent.

    Notes
    -----
    Cubic pieces with the slopes of Fritsch and Butland: where the values rise, so does the curve.

    References
    ----------
    .. [1] Fritsch & Butland, *A method for constructing local monotone piecewise cubic
       interpolants*, SIAM J. Scientific and Statistical Computing 5, 1984.

    Examples
    --------
    >>> smooth_through(np.array([0.0, 1.0]), np.array([0.0, 2.0]), np.array([-1.0, 0.5, 3.0]))
    array([0., 1., 2.])
    """
    curve, last = _curve(
        nodes.tobytes(), np.ascontiguousarray(values, dtype=float).tobytes(), goes_on=goes_on
    )
    inside: FloatArray = curve(np.clip(at, nodes[0], nodes[-1]))
    return inside + last * np.maximum(at - nodes[-1], 0.0)


@lru_cache(maxsize=256)
def _curve(nodes: bytes, values: bytes, *, goes_on: bool) -> tuple[CubicHermiteSpline, float]:
    """Return a table's curve and its last slope: a boat asks for the same ones all the time."""
    at, height = np.frombuffer(nodes), np.frombuffer(values)
    slopes = PchipInterpolator(at, height)(at, 1)
    slopes[0] = 0.0
    if not goes_on:
        slopes[-1] = 0.0
    return CubicHermiteSpline(at, height, slopes), float(slopes[-1])
