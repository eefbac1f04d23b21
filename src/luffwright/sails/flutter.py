"""Cloth that flutters: the small bending stiffness that its mean surface has.

A membrane without any bending stiffness folds where it is slack, as sharply as the mesh lets it,
and has as many ways to hang as there are folds. A sail that luffs shakes through them all; what it
shows on average is smooth. Its mean surface is taken for cloth with a little bending stiffness, as
much as the wind's pressure itself can bend to a share of the sail's width.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
from scipy.sparse import coo_matrix

from luffwright.air.stream import Stream
from luffwright.arrays import FloatArray, IntArray
from luffwright.sails.rigging import Rigging
from luffwright.sails.sailcloth import SailPart

Entries = tuple[IntArray, IntArray, FloatArray]
_OFF = np.array([1.0, -2.0, 1.0])


@lru_cache(maxsize=64)
def cloth_bending(part: SailPart) -> Entries:
    r"""Return a sail's bending stiffness on its points for a unit of it per width.

    .. math:: E = \tfrac12 \sum \frac{w}{h^3} |\mathbf x_{-} - 2 \mathbf x + \mathbf x_{+}|^2

    Three points in line along the chord, or along the span, `h` apart, stand for a strip of cloth
    `w` wide; straight cloth is at rest.

    Parameters
    ----------
    part : SailPart

    Returns
    -------
    (IntArray, IntArray, FloatArray)
        Rows and columns among the coordinates of all points, and values. [1/m²]
    """
    numbers = part.first + np.arange(part.count).reshape(part.rows, part.columns)
    grid = part.moulded.grid
    along, across = _pieces(grid), _pieces(grid.transpose(1, 0, 2)).T
    chains = [
        (numbers[:, k : k + 3], 0.5 * (along[:, k] + along[:, k + 1]), _widths(across)[:, k + 1])
        for k in range(part.columns - 2)
    ]
    chains += [
        (numbers[k : k + 3].T, 0.5 * (across[k] + across[k + 1]), _widths(along.T).T[k + 1])
        for k in range(part.rows - 2)
    ]
    rows, columns, values = [], [], []
    for points, step, width in chains:
        # The head is no longer than its board: its short pieces are not cloth that bends.
        stiff = width / np.maximum(step, 1e-2) ** 3
        for a in range(3):
            for b in range(3):
                for axis in range(3):
                    rows.append(3 * points[:, a] + axis)
                    columns.append(3 * points[:, b] + axis)
                    values.append(stiff * _OFF[a] * _OFF[b])
    return np.concatenate(rows), np.concatenate(columns), np.concatenate(values)


def _pieces(grid: FloatArray) -> FloatArray:
    """Return the lengths of a grid's pieces along its second axis [m]."""
    return np.asarray(np.linalg.norm(np.diff(grid, axis=1), axis=2))


def _widths(pieces: FloatArray) -> FloatArray:
    """Return what each point has of the pieces on either side of it along the first axis [m]."""
    padded = np.pad(pieces, ((1, 1), (0, 0)))
    return np.asarray(0.5 * (padded[:-1] + padded[1:]))


def flutter_of(rigging: Rigging, stream: Stream, density: float, share: float) -> tuple[float, ...]:
    r"""Return the bending stiffness of each sail's mean surface.

    .. math:: D = q\,(\lambda c)^3

    Parameters
    ----------
    rigging : Rigging
    stream : Stream
        Its pressure `q` is taken half-way up each sail.
    density : float
        Of the air. [kg/m³]
    share : float
        Of the foot's length `c` over which the wind's pressure bends it, :math:`\lambda`. [-]

    Returns
    -------
    tuple of float
        [N m]
    """
    out = []
    for part in rigging.sails:
        middle = rigging.moulded_places[part.first : part.first + part.count].mean(axis=0)
        speed = float(np.linalg.norm(stream(middle[None, :])))
        out.append(0.5 * density * speed**2 * (share * part.cut.foot) ** 3)
    return tuple(out)


def fluttering(rigging: Rigging, bends: tuple[float, ...]) -> Rigging:
    """Return the boat with a bending stiffness of the cloth of each sail.

    Parameters
    ----------
    rigging : Rigging
        Without one yet.
    bends : tuple of float
        From `flutter_of`, or from another state's `flutter`; none leaves the boat as she is. [N m]

    Returns
    -------
    Rigging
    """
    if not bends:
        return rigging
    stiff = rigging.mast_stiffness.copy()
    matrix = rigging.points.matrix()
    size = matrix.shape[0]
    for part, bend in zip(rigging.sails, bends, strict=True):
        row, column, value = cloth_bending(part)
        each = coo_matrix((bend * value, (row, column)), shape=(size, size)).tocsr()
        stiff += (matrix.T @ each @ matrix).toarray()
    return replace(rigging, mast_stiffness=np.ascontiguousarray(stiff), flutter=bends)
