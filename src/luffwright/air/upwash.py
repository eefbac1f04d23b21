"""The air's velocity that solved sails make at places off them: what an instrument there feels."""

from __future__ import annotations

import numpy as np

from luffwright.air.lattice import Flow, Lattice, Water, corners
from luffwright.air.lattice_kernel import lattice_influence
from luffwright.arrays import FloatArray

CORE = 0.05
"""Core radius of the filaments, as sails feel each other's [m]."""
_NOBODY = -1


def induced_velocity(
    mesh: Lattice, flow: Flow, nodes: FloatArray, water: Water, points: FloatArray
) -> FloatArray:
    r"""Return the velocity that all sails, their wakes and their images add at points.

    .. math:: \mathbf v(\mathbf x) = \sum_j \Gamma_j\, \mathbf u_j(\mathbf x)

    with :math:`\mathbf u_j` of ring :math:`j` and its wake by Biot and Savart.

    Parameters
    ----------
    mesh : Lattice
    flow : Flow
        Solved on `mesh`.
    nodes : (n, 3) array
        Where the flow was solved. Frame: boat. [m]
    water : Water
        The mirror it was solved with.
    points : (m, 3) array
        Frame: boat. [m]

    Returns
    -------
    (m, 3) array
        Without the undisturbed wind. Frame: boat. [m/s]

    Notes
    -----
    Holds well off the sails, a panel's size or more. The mast's own bluff body, which slows the air
    close in front of it, is left out.
    """
    lines = mesh.lines
    rays = corners(mesh, nodes, water)[lines.ray_start]
    influence = lattice_influence(
        np.ascontiguousarray(points), np.full(len(points), _NOBODY), flow.leg_start, flow.leg_end,
        lines.owner, lines.ring, lines.share, rays, flow.wake_along, lines.ray_owner,
        lines.ray_ring, lines.ray_share, water.up, water.present, CORE**2, CORE**2, mesh.rings,
    )  # fmt: skip
    return np.asarray(flow.circulation @ influence)
