"""From a coarse mesh to a fine one: sails that begin from nothing find their balance cheaply first.

A sail of four strips takes a hundredth of the work of one of nine and hangs within a few
centimetres of it; from there the fine one has as far to go as from a neighbouring setting.
"""

from __future__ import annotations

import numpy as np

from luffwright.air.lattice_mesh import lagrange_rows
from luffwright.arrays import FloatArray
from luffwright.sails.rigging import Rigging
from luffwright.sails.sailcloth import SailPart


def finer(coarse: Rigging, places: FloatArray, unknowns: FloatArray, fine: Rigging) -> FloatArray:
    """Return the unknowns of a fine mesh that hang its sails as a coarse one's hang [m].

    What a node moves from its moulded place is interpolated by cubics; the mast bends as it does.

    Parameters
    ----------
    coarse, fine : Rigging
        The same boat and setting on two meshes.
    places : (n, 3) array
        Of the coarse mesh's points. [m]
    unknowns : (m,) array
        Of the coarse mesh. [m]

    Returns
    -------
    (k,) array
    """
    out = np.zeros(fine.points.unknowns)
    mast = 2 * len(fine.spar.stations)
    out[:mast] = unknowns[:mast]
    moved = places - coarse.moulded_places
    points = fine.points
    single = np.diff(points.first) == 1
    for few, many in zip(coarse.sails, fine.sails, strict=True):
        rows = 3 * many.first + np.arange(3 * many.count)
        nodes = slice(many.first, many.first + many.count)
        want = fine.moulded_places[nodes] + _spread(moved, few, many) - points.constant[nodes]
        own = single[rows]
        entry = points.first[rows[own]]
        # A node that is free has an unknown of its own; others follow from these.
        free = (points.weight[entry] == 1.0) & (points.column[entry] >= mast)
        out[points.column[entry[free]]] = want.ravel()[own][free]
    return out


def _spread(moved: FloatArray, few: SailPart, many: SailPart) -> FloatArray:
    """Return a sail's moves at the nodes of the fine mesh [m]."""
    grid = moved[few.first : few.first + few.count].reshape(few.rows, few.columns, 3)
    up = lagrange_rows(few.rows, np.linspace(0.0, few.rows - 1, many.rows))
    along = lagrange_rows(few.columns, np.linspace(0.0, few.columns - 1, many.columns))
    return np.asarray(np.einsum("rj,ci,jik->rck", up, along, grid)).reshape(-1, 3)


def finer_strips(values: FloatArray, strips: int, *, sails: int = 2) -> FloatArray:
    """Return values of each sail's strips at the middles of `strips` strips instead.

    Parameters
    ----------
    values : (sails · n,) array
        From foot to head, one sail after the other. [any]
    strips : int
        Of a sail. [-]
    sails : int
        [-]

    Returns
    -------
    (sails · strips,) array
        [as given]

    Examples
    --------
    >>> finer_strips(np.array([0.0, 1.0]), 4, sails=1)
    array([0.  , 0.25, 0.75, 1.  ])
    """
    each = values.reshape(sails, -1)
    at = (np.arange(strips) + 0.5) / strips
    here = (np.arange(each.shape[1]) + 0.5) / each.shape[1]
    return np.concatenate([np.interp(at, here, line) for line in each])
