"""Induced drag read far behind the sails, in the plane that cuts their wakes square.

Far downstream the wake is a sheet of straight vortices, infinite both ways. The work it takes to
leave that sheet behind is the induced drag, whatever the forces on the single legs say: a check on
the sum of those forces, and a smoother number.
"""

from __future__ import annotations

import numpy as np

from luffwright.air.lattice import Flow, Lattice, Water, corners
from luffwright.arrays import FloatArray


def wash_through(low: FloatArray, high: FloatArray, mirror: FloatArray | None) -> FloatArray:
    r"""Return the flow that every strip of unit circulation drives through each strip of the wake.

    .. math:: W_{ij} = l_i\,\mathbf n_i \cdot \mathbf v_j(\mathbf m_i), \qquad
        \mathbf v = \frac{\Gamma}{2\pi}\,\frac{\mathbf e\times\mathbf r}{r^2}

    A strip of bound circulation one leaves a vortex of -1 at its lower edge and of +1 at its upper
    edge, seen along the wake; the image of a vortex in the water has the opposite strength.

    Parameters
    ----------
    low, high : (n, 2) array
        Edges of the strips in the plane square to the wake. [m]
    mirror : (2,) array or None
        Unit normal of the water's line through the origin; None = no water. [-]

    Returns
    -------
    (n, n) array
        Flow through strip i for circulation one in strip j, positive to the left of the way from
        its lower to its upper edge. [-]

    Notes
    -----
    Holds for: straight parallel wakes. The middle of a strip stands for the whole of it.

    References
    ----------
    .. [1] Katz and Plotkin, *Low-Speed Aerodynamics*, 2nd edition, Cambridge University Press,
       2001, section 8.2.3 (from memory).

    Examples
    --------
    In the middle of a strip 1 m high, two vortices half a metre away each make 1 / (2 π 0.5):

    >>> wash_through(np.array([[0.0, -0.5]]), np.array([[0.0, 0.5]]), None).round(4)
    array([[-0.6366]])
    """
    middle, step = 0.5 * (low + high), high - low

    def swirl(places: FloatArray) -> FloatArray:
        gap = middle[:, None, :] - places[None, :, :]
        square = np.maximum(np.sum(gap**2, axis=2), 1e-12)
        return np.sum(gap * step[:, None, :], axis=2) / (2.0 * np.pi * square)

    wash = swirl(high) - swirl(low)
    if mirror is not None:
        turn = np.eye(2) - 2.0 * np.outer(mirror, mirror)
        wash -= swirl(high @ turn) - swirl(low @ turn)
    return wash


def wake_drag(circulation: FloatArray, wash: FloatArray, density: float) -> float:
    r"""Return the induced drag of strips of circulation.

    .. math:: D = -\tfrac{\rho}{2}\,\mathbf\Gamma^{T}\,\mathbf W\,\mathbf\Gamma

    Parameters
    ----------
    circulation : (n,) array
        Of each strip. [m²/s]
    wash : (n, n) array
        From `wash_through`. [-]
    density : float
        Of the air. [kg/m³]

    Returns
    -------
    float
        Drag along the wake. [N]

    Examples
    --------
    >>> round(wake_drag(np.array([2.0]), np.array([[-0.5]]), 1.2), 9)
    1.2
    """
    return float(-0.5 * density * circulation @ wash @ circulation)


def _trailing(
    mesh: Lattice, corner: FloatArray, circulation: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return lower edges, upper edges and circulations of the strips that leave wakes."""
    lines, low, high, strength = mesh.lines, [], [], []
    hem = mesh.corner.shape[0]
    for sail, sheet in enumerate(mesh.meshes):
        ray = np.flatnonzero(lines.ray_owner == sail)
        edge = corner[lines.ray_start[ray[: sheet.rows]]]
        own = circulation[lines.ray_ring[ray[: sheet.strips], 1]]
        # What does not leave at the foot the deck carries on, down to the water.
        carried = (1.0 + lines.ray_share[ray[0], 1]) * own[0]
        beyond = ray[sheet.rows :]
        carried += float(lines.ray_share[beyond, 0] @ circulation[lines.ray_ring[beyond, 0]])
        if lines.ray_share[ray[0], 1] > -1.0:
            edge = np.vstack([corner[hem + sheet.panels], edge])
            own = np.concatenate([[carried], own])
        low.append(edge[:-1])
        high.append(edge[1:])
        strength.append(own)
        hem += sheet.columns
    return np.vstack(low), np.vstack(high), np.concatenate(strength)


def trefftz_drag(mesh: Lattice, nodes: FloatArray, flow: Flow, water: Water) -> float:
    """Return the induced drag of all sails from their wakes far downstream.

    Parameters
    ----------
    mesh : Lattice
    nodes : (n, 3) array
        Nodes that `flow` was solved at. Frame: boat. [m]
    flow : Flow
        In a uniform onset.
    water : Water
        The mirror.

    Returns
    -------
    float
        Along the wake, with the share of what the deck carries under the feet. [N]

    Notes
    -----
    Holds for: one onset for all heights, so that the wakes are parallel.
    """
    along = flow.wake_along.mean(axis=0)
    along /= np.linalg.norm(along)
    first = np.cross(np.eye(3)[int(np.argmin(np.abs(along)))], along)
    first /= np.linalg.norm(first)
    plane = np.stack([first, np.cross(along, first)], axis=1)
    low, high, strength = _trailing(mesh, corners(mesh, nodes, water), flow.circulation)
    mirror = None
    if water.present:
        mirror = water.up @ plane
        mirror /= np.linalg.norm(mirror)
    return wake_drag(strength, wash_through(low @ plane, high @ plane, mirror), flow.density)
