"""The mast as a beam between its foot and top, and where stays and spreaders hold it.

Unknowns are the sideways and fore-and-aft deflections at a few stations. A natural cubic spline
through them is the shape of least bending energy, so its energy is that of a uniform beam loaded
at the stations.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from scipy.interpolate import CubicSpline

from luffwright.arrays import FloatArray
from luffwright.sails.plan import Mast


@dataclass(frozen=True)
class Spar:
    """Stations' heights [m], bending stiffness for unit EI, (n, n) [1/m³], and foot height [m]."""

    stations: FloatArray
    bending: FloatArray
    foot: float

    def weights(self, height: float) -> FloatArray:
        """Return the shares of the stations' deflections at a height [m]."""
        if height not in self._known:
            inside = np.clip(height, self.foot, self.stations[-1])
            self._known[height] = self._curve(inside)
        return self._known[height]

    @cached_property
    def _known(self) -> dict[float, FloatArray]:
        # A boat is put together again for every control that is tried, at much the same heights.
        return {}

    @cached_property
    def _curve(self) -> CubicSpline:
        return _spline(self.foot, self.stations)


def _spline(foot: float, stations: FloatArray) -> CubicSpline:
    knots = np.concatenate([[foot], stations])
    values = np.vstack([np.zeros(len(stations)), np.eye(len(stations))])
    return CubicSpline(knots, values, bc_type="natural")


@lru_cache(maxsize=32)
def spar(mast: Mast) -> Spar:
    r"""Return the mast's stations and bending stiffness; the foot is a hinge.

    .. math:: \tfrac12 \int w''^2 \, dz = \tfrac12 \, w_i K_{ij} w_j

    Parameters
    ----------
    mast : Mast

    Returns
    -------
    Spar
        Stations at hounds, top, spreaders and evenly between; stiffness for unit EI.

    Notes
    -----
    Holds for: small slopes, uniform bending stiffness, no shear.

    References
    ----------
    .. [1] de Boor, *A Practical Guide to Splines*, Springer, 1978, ch. V: the natural cubic spline
       has the least bending energy of all curves through its points (from memory).

    Examples
    --------
    >>> mast = Mast(1.0, 11.0, 11.0, 0.0, 0.15, 1e6, 5e5, ())
    >>> beam = spar(mast)
    >>> bool(np.allclose(beam.bending @ (beam.stations - 1.0), 0.0, atol=1e-6))  # tilting is free
    True
    """
    wanted = [entry.height for entry in mast.spreaders] + [mast.hounds, mast.top]
    even = np.linspace(mast.foot, mast.top, 5)[1:]
    stations = sorted(set(wanted))
    for height in even:
        if min(abs(height - other) for other in stations) > 0.08 * (mast.top - mast.foot):
            stations.append(float(height))
    heights = np.array(sorted(stations))
    curve = _spline(mast.foot, heights).derivative(2)
    knots = np.concatenate([[mast.foot], heights])
    at = curve(knots)
    low, high = at[:-1], at[1:]
    # The second derivative is linear between stations: its square integrates exactly from the ends.
    both = low + high
    pieces = _outer(low, low) + _outer(high, high) + _outer(both, both)
    bending = (np.diff(knots)[:, None, None] / 6.0 * pieces).sum(axis=0)
    return Spar(heights, bending, mast.foot)


def _outer(left: FloatArray, right: FloatArray) -> FloatArray:
    return left[:, :, None] * right[:, None, :]
