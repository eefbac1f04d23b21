r"""The lee of a sail that stands as a stalled plate before the wind.

A lattice lets a plate in dead air shed hardly any wake: what stands behind it would feel the whole
wind. In truth a bubble of nearly dead air hangs there, as wide as the plate's outline seen along
the wind, with edges that mix ever wider into the stream and swing with it:

.. math:: \frac{V}{V_0} = 1 - (1 - k)\,\sum_s p_s\,g(x)\,
    [S(\tfrac{c - a_s}{w}) - S(\tfrac{c - b_s}{w})]\,
    [S(\tfrac{v - l_s}{w}) - S(\tfrac{v - h_s}{w})],\quad w = 0.32\,x + 0.3

with each strip between its edges :math:`a, b` across the wind and :math:`l, h` up, a point at
:math:`c, v` and :math:`x` behind, a smooth step S, and the share p of a plate that each strip is.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from luffwright.air.lattice_mesh import SheetMesh
from luffwright.air.shade_kernel import shadow_cover
from luffwright.air.stall import plate_share
from luffwright.arrays import FloatArray, IntArray
from luffwright.frames import cross

LEFT = 0.2
"""Share of the wind's speed inside the shadow. In the near wake of a plate the air runs slowly back
and forth, by some 0.1 to 0.3 of the stream (from memory); a fifth is our own judgement."""
MIXES = 0.18
"""Reach of a free shear layer to either side as a share of the distance behind the edge: half of
what can be seen of it, its vorticity's own thickness for air at rest on one side (Brown and Roshko
1974, from memory)."""
SWINGS = 2.5 * float(np.tan(np.radians(6.0)))
"""Reach of the shadow's swing to either side, the same: the wind's angle deviates by some 6 degrees
over a minute (an estimate of our own), and hardly ever by 2.5 times as much."""
SPREAD = float(np.hypot(MIXES, SWINGS))
"""Half the width of an edge as a share of the distance behind it, both causes together: 0.32."""
LEAST = 0.3
"""Half the width of an edge at the sail itself [m]: leeches wave and boats roll (an estimate)."""
BEGINS = 1.0
"""Distance behind the sail over which the shadow comes in [m]: a sail is no shadow to itself."""
FROM_AFT = 0.35
"""Cosine of the wind's angle off the stern from which on a shadow is whole; forward of the beam
there is none: 20 degrees between them (an estimate of our own)."""

Onset = Callable[[FloatArray], FloatArray]


@dataclass(frozen=True)
class Shade:
    """Which sail takes whose wind: nodes of its `luff` and `leech` from foot to head, and the
    number of the sail `on` which the shadow may fall.
    """

    luff: IntArray
    leech: IntArray
    on: int


def shade_of(meshes: tuple[SheetMesh, ...], by: int, on: int) -> Shade:
    """Return the shade that one sail of a lattice casts on another.

    Parameters
    ----------
    meshes : tuple of SheetMesh
        All of the lattice's sails in order.
    by, on : int
        Numbers of the sail that shades and of the one in its lee.

    Returns
    -------
    Shade
    """
    first = sum(mesh.rows * mesh.columns for mesh in meshes[:by])
    mesh = meshes[by]
    luff = first + mesh.columns * np.arange(mesh.rows)
    return Shade(luff, luff + mesh.columns - 1, on)


def cast(luff: FloatArray, leech: FloatArray, onset: Onset) -> FloatArray:
    """Return how much of a shadow each strip of a sail casts.

    Parameters
    ----------
    luff, leech : (rows, 3) array
        The sail's edges from foot to head. Frame: boat. [m]
    onset : callable
        Undisturbed velocity of the air at (m, 3) points. [m/s]

    Returns
    -------
    (rows - 1,) array
        Nought where the sail streams or the wind comes from forward of the beam. [-]

    Notes
    -----
    A strip is a plate in dead air by the sine of its angle to the wind as in the law of the stall.

    Examples
    --------
    Squared off with the wind from right aft, and sheeted in with the wind from ahead:

    >>> mast, out = np.array([[0.0, 0, 1], [0, 0, 2]]), np.array([[0.0, 4, 1], [0, 4, 2]])
    >>> aft, ahead = np.array([[6.0, 0.0, 0.0]]), np.array([[-6.0, 1.0, 0.0]])
    >>> cast(mast, out, lambda at: aft).round(3), cast(mast, out, lambda at: ahead).round(3)
    (array([1.]), array([0.]))
    """
    front, back = 0.5 * (luff[1:] + luff[:-1]), 0.5 * (leech[1:] + leech[:-1])
    wind = onset(0.5 * (front + back))
    speed = np.maximum(np.linalg.norm(wind, axis=1), 1e-9)
    aft = np.clip(wind[:, 0] / speed / FROM_AFT, 0.0, 1.0)
    normal = cross(back - front, (luff + leech)[1:] - (luff + leech)[:-1])
    size = np.maximum(np.linalg.norm(normal, axis=1), 1e-12)
    sine = np.abs(np.sum(normal * wind, axis=1)) / (size * speed)
    return np.asarray(aft * aft * (3.0 - 2.0 * aft) * plate_share(sine))


def reaching(
    points: FloatArray, wind: FloatArray, luff: FloatArray, leech: FloatArray, share: FloatArray
) -> FloatArray:
    """Return how much of the wind's speed reaches points in the lee of a sail.

    Parameters
    ----------
    points : (n, 3) array
        Frame: boat. [m]
    wind : (n, 3) array
        Undisturbed velocity of the air there. [m/s]
    luff, leech : (rows, 3) array
        Edges of the sail that stands in the way, from foot to head. [m]
    share : (rows - 1,) array
        How much of a shadow each of its strips casts, from `cast`. [-]

    Returns
    -------
    (n,) array
        From `LEFT` to 1. [-]

    Notes
    -----
    Near wake only, within some two widths of the plate: farther off a wake fills up again, which
    is left out but for the edges that meet in its middle. Stairs of a twisted leech are as fine as
    the strips.

    References
    ----------
    .. [1] Brown and Roshko, *On density effects and large structure in turbulent mixing layers*,
       J. Fluid Mech. 64, 1974 (from memory).

    Examples
    --------
    Three metres right behind a plate, and as far behind but well to its side:

    >>> mast, out = np.array([[0.0, -3, 0], [0, -3, 9]]), np.array([[0.0, 3, 0], [0, 3, 9]])
    >>> at, wind = np.array([[3.0, 0, 4], [3, 9, 4]]), np.array([[6.0, 0, 0], [6, 0, 0]])
    >>> reaching(at, wind, mast, out, np.ones(1)).round(3)
    array([0.2, 1. ])
    """
    cover = shadow_cover(points, wind, luff, leech, share, SPREAD, LEAST, BEGINS)
    return np.asarray(1.0 - (1.0 - LEFT) * np.clip(cover, 0.0, 1.0))


def blown(
    shades: tuple[Shade, ...], nodes: FloatArray, onset: Onset, points: FloatArray, owner: IntArray,
) -> FloatArray:  # fmt: skip
    """Return the onset at points of sails, less what other sails take of it.

    Parameters
    ----------
    shades : tuple of Shade
    nodes : (m, 3) array
        Of all sails. Frame: boat. [m]
    onset : callable
        Undisturbed velocity of the air at (n, 3) points. [m/s]
    points : (n, 3) array
        [m]
    owner : (n,) array
        The sail that each belongs to. [-]

    Returns
    -------
    (n, 3) array
        The undisturbed one itself where nothing is shaded. [m/s]
    """
    wind = onset(points)
    for shade in shades:
        luff, leech = nodes[shade.luff], nodes[shade.leech]
        share = cast(luff, leech, onset)
        if np.any(share > 0.0):
            lee = owner == shade.on
            wind = wind.copy()
            wind[lee] *= reaching(points[lee], wind[lee], luff, leech, share)[:, None]
    return wind
