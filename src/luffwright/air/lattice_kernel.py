"""Compiled Biot-Savart sums of the lattice: unit velocities of all rings at many points.

Symbols: `r1`, `r2` from the ends of a straight vortex to the point, `g` unit strength. The mirror
image in the water plane needs no second set of filaments: the image's velocity at a point is the
mirrored velocity that the real filaments make at the mirrored point.
"""

from __future__ import annotations

import math

import numba as nb
import numpy as np

from luffwright.arrays import FloatArray, IntArray

_FOUR_PI = 4.0 * math.pi


@nb.njit(inline="always", fastmath=True)
def _segment(px, py, pz, ax, ay, az, bx, by, bz, core2):  # type: ignore[no-untyped-def]
    """Unit velocity of a straight vortex from a to b (Biot-Savart, core added to the distance)."""
    x1, y1, z1 = px - ax, py - ay, pz - az
    x2, y2, z2 = px - bx, py - by, pz - bz
    cx = y1 * z2 - z1 * y2
    cy = z1 * x2 - x1 * z2
    cz = x1 * y2 - y1 * x2
    n1 = math.sqrt(x1 * x1 + y1 * y1 + z1 * z1)
    n2 = math.sqrt(x2 * x2 + y2 * y2 + z2 * z2)
    dot = x1 * x2 + y1 * y2 + z1 * z2
    ex, ey, ez = bx - ax, by - ay, bz - az
    product = n1 * n2
    below = product * (product + dot) + 0.5 * core2 * (ex * ex + ey * ey + ez * ez) + 1e-30
    scale = (n1 + n2) / (below * _FOUR_PI)
    return cx * scale, cy * scale, cz * scale


@nb.njit(inline="always", fastmath=True)
def _ray(px, py, pz, ax, ay, az, dx, dy, dz, core2):  # type: ignore[no-untyped-def]
    """Unit velocity of a vortex from a to infinity along the unit vector d."""
    x1, y1, z1 = px - ax, py - ay, pz - az
    n1 = math.sqrt(x1 * x1 + y1 * y1 + z1 * z1)
    along = x1 * dx + y1 * dy + z1 * dz
    cx = dy * z1 - dz * y1
    cy = dz * x1 - dx * z1
    cz = dx * y1 - dy * x1
    below = n1 * (n1 - along) + 0.5 * core2 + 1e-30
    scale = 1.0 / (below * _FOUR_PI)
    return cx * scale, cy * scale, cz * scale


@nb.njit(cache=True, fastmath=True, parallel=True, error_model="numpy")
def lattice_influence(  # type: ignore[no-untyped-def]
    points, owner, start, end, seg_owner, seg_ring, seg_share,
    ray_start, ray_along, ray_owner, ray_ring, ray_share, up, mirrored, core_own, core_other, rings,
):  # fmt: skip
    """Fill (point, ring, xyz): velocity at each point by each ring of unit circulation."""
    count = points.shape[0]
    out = np.zeros((count, rings, 3))
    ux, uy, uz = up[0], up[1], up[2]
    for p in nb.prange(count):
        px, py, pz = points[p, 0], points[p, 1], points[p, 2]
        height = 2.0 * (px * ux + py * uy + pz * uz)
        qx, qy, qz = px - height * ux, py - height * uy, pz - height * uz
        for s in range(start.shape[0]):
            core2 = core_own if seg_owner[s] == owner[p] else core_other
            ax, ay, az = start[s, 0], start[s, 1], start[s, 2]
            bx, by, bz = end[s, 0], end[s, 1], end[s, 2]
            vx, vy, vz = _segment(px, py, pz, ax, ay, az, bx, by, bz, core2)
            if mirrored:
                wx, wy, wz = _segment(qx, qy, qz, ax, ay, az, bx, by, bz, core2)
                turn = 2.0 * (wx * ux + wy * uy + wz * uz)
                vx += wx - turn * ux
                vy += wy - turn * uy
                vz += wz - turn * uz
            for k in range(2):
                ring = seg_ring[s, k]
                if ring >= 0:
                    share = seg_share[s, k]
                    out[p, ring, 0] += share * vx
                    out[p, ring, 1] += share * vy
                    out[p, ring, 2] += share * vz
        for s in range(ray_start.shape[0]):
            core2 = core_own if ray_owner[s] == owner[p] else core_other
            ax, ay, az = ray_start[s, 0], ray_start[s, 1], ray_start[s, 2]
            dx, dy, dz = ray_along[s, 0], ray_along[s, 1], ray_along[s, 2]
            vx, vy, vz = _ray(px, py, pz, ax, ay, az, dx, dy, dz, core2)
            if mirrored:
                wx, wy, wz = _ray(qx, qy, qz, ax, ay, az, dx, dy, dz, core2)
                turn = 2.0 * (wx * ux + wy * uy + wz * uz)
                vx += wx - turn * ux
                vy += wy - turn * uy
                vz += wz - turn * uz
            for k in range(2):
                ring = ray_ring[s, k]
                if ring >= 0:
                    share = ray_share[s, k]
                    out[p, ring, 0] += share * vx
                    out[p, ring, 1] += share * vy
                    out[p, ring, 2] += share * vz
    return out


KernelArrays = tuple[FloatArray, IntArray]
