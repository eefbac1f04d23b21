"""Compiled velocities of the lattice's filaments at given strengths, without any matrix of rings.

Symbols as in the lattice's kernel. Several sets of strengths share one round of filaments.
"""

from __future__ import annotations

import numba as nb
import numpy as np

from luffwright.air.lattice_kernel import rays_felt, segments_felt


@nb.njit(inline="always", fastmath=True)
def _sum_up(out, point, strength, v):  # type: ignore[no-untyped-def]
    """Add the velocities of filaments, (xyz, filaments), by each set of strengths."""
    for k in range(strength.shape[0]):
        x, y, z = 0.0, 0.0, 0.0
        for s in range(strength.shape[1]):
            x += strength[k, s] * v[0, s]
            y += strength[k, s] * v[1, s]
            z += strength[k, s] * v[2, s]
        out[k, point, 0] += x
        out[k, point, 1] += y
        out[k, point, 2] += z


@nb.njit(cache=True, fastmath=True, error_model="numpy")
def filament_velocities(  # type: ignore[no-untyped-def]
    points, owner, start, end, seg_owner, seg_strength, ray_start, ray_along, ray_owner,
    ray_strength, up, mirrored, core_own, core_other,
):  # fmt: skip
    """Fill (set, point, xyz): velocity at each point by all filaments, by each set of strengths."""
    count, segs, rays = points.shape[0], start.shape[0], ray_start.shape[0]
    out = np.zeros((seg_strength.shape[0], count, 3))
    a, b = np.ascontiguousarray(start.T), np.ascontiguousarray(end.T)
    c, d = np.ascontiguousarray(ray_start.T), np.ascontiguousarray(ray_along.T)
    v, w = np.empty((3, segs)), np.empty((3, rays))
    for p in range(count):
        at, mine = points[p], owner[p]
        segments_felt(v, at, up, mirrored, mine, seg_owner, a, b, core_own, core_other)
        rays_felt(w, at, up, mirrored, mine, ray_owner, c, d, core_own, core_other)
        _sum_up(out, p, seg_strength, v)
        _sum_up(out, p, ray_strength, w)
    return out
