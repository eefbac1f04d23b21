"""How the flow about the sails changes as the vortices themselves move with the sails."""

from __future__ import annotations

import numpy as np
from scipy.sparse import csr_matrix

from luffwright.air.lattice import CORE, Flow, Lattice, Moved, Water, corners
from luffwright.air.slope_kernel import velocity_slopes
from luffwright.arrays import FloatArray
from luffwright.frames import cross


def moved_vortices(mesh: Lattice, nodes: FloatArray, flow: Flow, water: Water) -> Moved:
    r"""Return how leaks and loads answer as the vortices and the points they are felt at move.

    .. math:: \delta\ell_i = \mathbf n_i \cdot \delta\mathbf V_i,\quad
        \delta\mathbf F = \rho\,\Gamma\,\delta\mathbf V \times \mathbf l

    Parameters
    ----------
    mesh : Lattice
    nodes : (n, 3) array
        Of all sails, where the flow was solved. Frame: boat. [m]
    flow : Flow
        Its circulations are held. [m²/s]
    water : Water
        The mirror.

    Returns
    -------
    Moved

    Notes
    -----
    The wakes keep their directions; the change of the wind with a node's height is left out.
    """
    lines, rings, count = mesh.lines, mesh.rings, len(nodes)
    places = corners(mesh, nodes, water)
    middle = 0.5 * (flow.leg_start + flow.leg_end)
    mirror = np.eye(3) - 2.0 * np.outer(water.up, water.up)
    strength = np.append(flow.circulation, 0.0)
    rays = np.sum(lines.ray_share * strength[lines.ray_ring], axis=1)
    slopes, own = velocity_slopes(
        np.vstack([mesh.control @ nodes, middle]),
        np.concatenate([mesh.control_owner, lines.owner]),
        places, lines.start, lines.end, lines.owner, flow.leg_strength,
        lines.ray_start, flow.wake_along, lines.ray_owner, rays,
        mirror, water.present, CORE[0] ** 2, CORE[1] ** 2,
    )  # fmt: skip
    for leg in range(len(lines.start)):
        for corner in (lines.start[leg], lines.end[leg]):
            slopes[rings + leg, :, corner] += 0.5 * own[rings + leg]
    normal = cross(flow.chordwise, flow.spanwise)
    leak = np.einsum("pa,pacb->pcb", normal, slopes[:rings])
    by_corner = _felt_by_hems(mesh, leak, water)
    turned = np.einsum("pa,pab->pb", normal, own[:rings])
    to_nodes = csr_matrix(mesh.corner.T)
    leaks = _to_nodes(to_nodes, by_corner) + np.einsum("pn,pb->pnb", mesh.control, turned)
    pull = flow.density * flow.leg_strength * lines.loaded
    reach = pull[:, None] * (flow.leg_end - flow.leg_start)
    push = _cross(slopes[rings:], reach)
    on_nodes = csr_matrix(mesh.to_node) @ push.reshape(len(reach), -1)
    by_corner = _felt_by_hems(mesh, on_nodes.reshape(3 * count, -1, 3), water)
    load = _to_nodes(to_nodes, by_corner)
    return Moved(leaks.reshape(rings, -1), load.reshape(3 * count, 3 * count))


def _cross(slopes: FloatArray, reach: FloatArray) -> FloatArray:
    """Return the slopes (legs, xyz, corners, xyz) of velocities, times the legs' reach."""
    x, y, z = reach.T[:, :, None, None]
    u, v, w = slopes[:, 0], slopes[:, 1], slopes[:, 2]
    return np.stack([v * z - w * y, w * x - u * z, u * y - v * x], axis=1)


def _felt_by_hems(mesh: Lattice, slopes: FloatArray, water: Water) -> FloatArray:
    """Return slopes (m, corners, xyz) by the sails' corners only: the skirt's feet follow them."""
    own = len(mesh.corner)
    follow = np.eye(3) - np.outer([0.0, 0.0, 1.0], water.up) / max(float(water.up[2]), 0.1)
    out = slopes[:, :own].copy()
    out[:, mesh.skirt_from] += slopes[:, own:] @ follow
    return out


def _to_nodes(matrix: csr_matrix, slopes: FloatArray) -> FloatArray:
    """Return slopes (m, corners, xyz) by nodes, (m, nodes, xyz)."""
    rows = len(slopes)
    flat = np.ascontiguousarray(slopes.transpose(1, 0, 2)).reshape(slopes.shape[1], -1)
    return (matrix @ flat).reshape(-1, rows, 3).transpose(1, 0, 2)
