"""Compiled velocities of the lattice's filaments at given strengths, without any matrix of rings.

Symbols as in the lattice's kernel. Several sets of strengths share one round of filaments.
"""

from __future__ import annotations

import numba as nb
import numpy as np

from luffwright.air.lattice_kernel import _ray, _segment


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
    ux, uy, uz = up[0], up[1], up[2]
    v, w = np.empty((3, segs)), np.empty((3, rays))
    for p in range(count):
        px, py, pz = points[p, 0], points[p, 1], points[p, 2]
        height = 2.0 * (px * ux + py * uy + pz * uz)
        qx, qy, qz = px - height * ux, py - height * uy, pz - height * uz
        mine = owner[p]
        for s in range(segs):
            core2 = core_own if seg_owner[s] == mine else core_other
            vx, vy, vz = _segment(
                px, py, pz, a[0, s], a[1, s], a[2, s], b[0, s], b[1, s], b[2, s], core2
            )
            v[0, s], v[1, s], v[2, s] = vx, vy, vz
        for s in range(rays):
            core2 = core_own if ray_owner[s] == mine else core_other
            vx, vy, vz = _ray(
                px, py, pz, c[0, s], c[1, s], c[2, s], d[0, s], d[1, s], d[2, s], core2
            )
            w[0, s], w[1, s], w[2, s] = vx, vy, vz
        if mirrored:
            for s in range(segs):
                core2 = core_own if seg_owner[s] == mine else core_other
                vx, vy, vz = _segment(
                    qx, qy, qz, a[0, s], a[1, s], a[2, s], b[0, s], b[1, s], b[2, s], core2
                )
                turn = 2.0 * (vx * ux + vy * uy + vz * uz)
                v[0, s] += vx - turn * ux
                v[1, s] += vy - turn * uy
                v[2, s] += vz - turn * uz
            for s in range(rays):
                core2 = core_own if ray_owner[s] == mine else core_other
                vx, vy, vz = _ray(
                    qx, qy, qz, c[0, s], c[1, s], c[2, s], d[0, s], d[1, s], d[2, s], core2
                )
                turn = 2.0 * (vx * ux + vy * uy + vz * uz)
                w[0, s] += vx - turn * ux
                w[1, s] += vy - turn * uy
                w[2, s] += vz - turn * uz
        _sum_up(out, p, seg_strength, v)
        _sum_up(out, p, ray_strength, w)
    return out
