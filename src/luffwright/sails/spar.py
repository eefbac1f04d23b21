"""The mast as a beam between its foot and top, and where stays and spreaders hold it.

Unknowns are the sideways and fore-and-aft deflections at a few stations. A natural cubic spline
through them is the shape of least bending energy, so its energy is that of a uniform beam loaded
at the stations.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from luffwright.arrays import FloatArray
from luffwright.sails.plan import Mast


@dataclass(frozen=True)
class Spar:
    """Stations' heights [m] and bending stiffness for unit EI, (n, n) [1/m³]."""

    stations: FloatArray
    bending: FloatArray
    foot: float

    def weights(self, height: float) -> FloatArray:
        """Return the shares of the stations' deflections at a height [m]."""
        return _spline(self.foot, self.stations)(np.clip(height, self.foot, self.stations[-1]))  # type: ignore[no-any-return]


def _spline(foot: float, stations: FloatArray) -> CubicSpline:
    knots = np.concatenate([[foot], stations])
    values = np.vstack([np.zeros(len(stations)), np.eye(len(stations))])
    return CubicSpline(knots, values, bc_type="natural")


def spar(mast: Mast) -> Spar:
    """Return the mast's stations and bending stiffness; the foot is a hinge.

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
    step = np.diff(knots)[:, None, None]
    low, high = at[:-1], at[1:]
    outer = lambda a, b: a[:, :, None] * b[:, None, :]  # noqa: E731
    pieces = step / 6.0 * (2 * outer(low, low) + 2 * outer(high, high) + outer(low, high) + outer(high, low))
    return Spar(heights, pieces.sum(axis=0), mast.foot)
