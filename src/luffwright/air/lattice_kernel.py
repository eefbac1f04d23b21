"""Compiled Biot-Savart sums of the lattice: unit velocities of all rings at many points.

Symbols: `r1`, `r2` from the ends of a straight vortex to the point, `g` unit strength. The mirror
image in the water plane needs no second set of filaments: the image's velocity at a point is the
mirrored velocity that the real filaments make at the mirrored point.

One thread on purpose: the sums take under a millisecond, and where several flights run side by side
waiting for a second thread costs more than it brings.
"""

from __future__ import annotations

import math

import numba as nb
import numpy as np

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


@nb.njit(inline="always", fastmath=True)
def segments_felt(v, p, up, mirrored, mine, owner, a, b, own, other):  # type: ignore[no-untyped-def]
    """Fill (xyz, segments): unit velocity of each at a point of sail `mine`, its image added."""
    ux, uy, uz = up[0], up[1], up[2]
    height = 2.0 * (p[0] * ux + p[1] * uy + p[2] * uz)
    px, py, pz = p[0], p[1], p[2]
    qx, qy, qz = px - height * ux, py - height * uy, pz - height * uz
    for s in range(v.shape[1]):
        core2 = own if owner[s] == mine else other
        vx, vy, vz = _segment(
            px, py, pz, a[0, s], a[1, s], a[2, s], b[0, s], b[1, s], b[2, s], core2
        )
        v[0, s], v[1, s], v[2, s] = vx, vy, vz
    if mirrored:
        for s in range(v.shape[1]):
            core2 = own if owner[s] == mine else other
            vx, vy, vz = _segment(
                qx, qy, qz, a[0, s], a[1, s], a[2, s], b[0, s], b[1, s], b[2, s], core2
            )
            turn = 2.0 * (vx * ux + vy * uy + vz * uz)
            v[0, s] += vx - turn * ux
            v[1, s] += vy - turn * uy
            v[2, s] += vz - turn * uz


@nb.njit(inline="always", fastmath=True)
def rays_felt(w, p, up, mirrored, mine, owner, c, d, own, other):  # type: ignore[no-untyped-def]
    """Fill (xyz, rays): unit velocity of each at a point of sail `mine`, its image added."""
    ux, uy, uz = up[0], up[1], up[2]
    height = 2.0 * (p[0] * ux + p[1] * uy + p[2] * uz)
    px, py, pz = p[0], p[1], p[2]
    qx, qy, qz = px - height * ux, py - height * uy, pz - height * uz
    for s in range(w.shape[1]):
        core2 = own if owner[s] == mine else other
        vx, vy, vz = _ray(px, py, pz, c[0, s], c[1, s], c[2, s], d[0, s], d[1, s], d[2, s], core2)
        w[0, s], w[1, s], w[2, s] = vx, vy, vz
    if mirrored:
        for s in range(w.shape[1]):
            core2 = own if owner[s] == mine else other
            vx, vy, vz = _ray(
                qx, qy, qz, c[0, s], c[1, s], c[2, s], d[0, s], d[1, s], d[2, s], core2
            )
            turn = 2.0 * (vx * ux + vy * uy + vz * uz)
            w[0, s] += vx - turn * ux
            w[1, s] += vy - turn * uy
            w[2, s] += vz - turn * uz


@nb.njit(inline="always", fastmath=True)
def _gather(out, share, ring, vx, vy, vz):  # type: ignore[no-untyped-def]
    """Add the filaments' velocities to the one or two rings that each belongs to."""
    for s in range(vx.shape[0]):
        for k in range(2):
            r = ring[s, k]
            if r >= 0:
                part = share[s, k]
                out[r, 0] += part * vx[s]
                out[r, 1] += part * vy[s]
                out[r, 2] += part * vz[s]


@nb.njit(cache=True, fastmath=True, error_model="numpy")
def lattice_influence(  # type: ignore[no-untyped-def]
    points, owner, start, end, seg_owner, seg_ring, seg_share,
    ray_start, ray_along, ray_owner, ray_ring, ray_share, up, mirrored, core_own, core_other, rings,
):  # fmt: skip
    """Fill (point, ring, xyz): velocity at each point by each ring of unit circulation.

    Velocities come first, in plain loops over coordinates laid side by side, which the compiler
    turns into vector instructions; the scatter to rings, which it cannot, follows.
    """
    count, segs, rays = points.shape[0], start.shape[0], ray_start.shape[0]
    out = np.zeros((count, rings, 3))
    a, b = np.ascontiguousarray(start.T), np.ascontiguousarray(end.T)
    c, d = np.ascontiguousarray(ray_start.T), np.ascontiguousarray(ray_along.T)
    v, w = np.empty((3, segs)), np.empty((3, rays))
    for p in range(count):
        at, mine = points[p], owner[p]
        segments_felt(v, at, up, mirrored, mine, seg_owner, a, b, core_own, core_other)
        _gather(out[p], seg_share, seg_ring, v[0], v[1], v[2])
        rays_felt(w, at, up, mirrored, mine, ray_owner, c, d, core_own, core_other)
        _gather(out[p], ray_share, ray_ring, w[0], w[1], w[2])
    return out
