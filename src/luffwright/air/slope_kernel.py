"""Compiled slopes of the Biot-Savart sums: how velocities change as filaments and points move.

Symbols as in the lattice's kernel: `r1`, `r2` from the ends of a straight vortex to the point, `c`
= r1 x r2, and the velocity c (n1 + n2) / below. `j1`, `j2` are its slopes in r1 and r2, so that a
shift of the point counts j1 + j2 and shifts of the ends -j1 and -j2. Slopes come first, in plain
loops over vortices laid side by side, which the compiler turns into vector instructions; the
scatter to corners follows.
"""

from __future__ import annotations

import math

import numba as nb
import numpy as np

_FOUR_PI = 4.0 * math.pi


@nb.njit(inline="always", fastmath=True)
def _segment_slopes(x1, y1, z1, x2, y2, z2, core2, g):  # type: ignore[no-untyped-def]
    """Slopes of the velocity of a straight vortex of strength g in r1, then in r2, row by row."""
    cx = y1 * z2 - z1 * y2
    cy = z1 * x2 - x1 * z2
    cz = x1 * y2 - y1 * x2
    n1 = math.sqrt(x1 * x1 + y1 * y1 + z1 * z1) + 1e-30
    n2 = math.sqrt(x2 * x2 + y2 * y2 + z2 * z2) + 1e-30
    dot = x1 * x2 + y1 * y2 + z1 * z2
    ex, ey, ez = x1 - x2, y1 - y2, z1 - z2
    product = n1 * n2
    below = product * (product + dot) + 0.5 * core2 * (ex * ex + ey * ey + ez * ez) + 1e-30
    over = g / (below * _FOUR_PI)
    scale = (n1 + n2) * over
    fall = scale / below
    # Slope of `below` along r1: (2 product + dot) n2 r1 / n1 + product r2 + core2 e; r2 likewise.
    a1, a2 = (2.0 * product + dot) * n2 / n1, (2.0 * product + dot) * n1 / n2
    g1x = over * x1 / n1 - fall * (a1 * x1 + product * x2 + core2 * ex)
    g1y = over * y1 / n1 - fall * (a1 * y1 + product * y2 + core2 * ey)
    g1z = over * z1 / n1 - fall * (a1 * z1 + product * z2 + core2 * ez)
    g2x = over * x2 / n2 - fall * (a2 * x2 + product * x1 - core2 * ex)
    g2y = over * y2 / n2 - fall * (a2 * y2 + product * y1 - core2 * ey)
    g2z = over * z2 / n2 - fall * (a2 * z2 + product * z1 - core2 * ez)
    return (
        cx * g1x, cx * g1y + scale * z2, cx * g1z - scale * y2,
        cy * g1x - scale * z2, cy * g1y, cy * g1z + scale * x2,
        cz * g1x + scale * y2, cz * g1y - scale * x2, cz * g1z,
        cx * g2x, cx * g2y - scale * z1, cx * g2z + scale * y1,
        cy * g2x + scale * z1, cy * g2y, cy * g2z - scale * x1,
        cz * g2x - scale * y1, cz * g2y + scale * x1, cz * g2z,
    )  # fmt: skip


@nb.njit(inline="always", fastmath=True)
def _ray_slopes(x1, y1, z1, dx, dy, dz, core2, g):  # type: ignore[no-untyped-def]
    """Slopes of the velocity of a vortex of strength g to infinity along d in r1, row by row."""
    cx = dy * z1 - dz * y1
    cy = dz * x1 - dx * z1
    cz = dx * y1 - dy * x1
    n1 = math.sqrt(x1 * x1 + y1 * y1 + z1 * z1) + 1e-30
    along = x1 * dx + y1 * dy + z1 * dz
    below = n1 * (n1 - along) + 0.5 * core2 + 1e-30
    scale = g / (below * _FOUR_PI)
    fall = scale / below
    a1 = 2.0 - along / n1
    gx, gy, gz = (
        -fall * (a1 * x1 - n1 * dx),
        -fall * (a1 * y1 - n1 * dy),
        -fall * (a1 * z1 - n1 * dz),
    )
    return (
        cx * gx, cx * gy - scale * dz, cx * gz + scale * dy,
        cy * gx + scale * dz, cy * gy, cy * gz - scale * dx,
        cz * gx - scale * dy, cz * gy + scale * dx, cz * gz,
    )  # fmt: skip


@nb.njit(inline="always", fastmath=True)
def _spread(slopes, corner, j):  # type: ignore[no-untyped-def]
    """Take each vortex's slopes (9, vortices) in one end from its corner's."""
    for s in range(corner.shape[0]):
        row = slopes[corner[s]]
        for k in range(9):
            row[k] -= j[k, s]


@nb.njit(inline="always", fastmath=True)
def _together(real, image, mirror, slopes, own):  # type: ignore[no-untyped-def]
    """Fill a point's slopes by corners (xyz, corner, xyz) and by itself (xyz, xyz).

    The image's velocity is the mirrored one, so that its slope in an end is M j, in the point
    M j M. What moves point and ends alike changes nothing: the point's slope is that of all ends,
    turned round.
    """
    image_own = np.zeros(9)
    for c in range(real.shape[0]):
        for a in range(3):
            for b in range(3):
                slopes[a, c, b] = real[c, 3 * a + b] + (
                    mirror[a, 0] * image[c, b]
                    + mirror[a, 1] * image[c, 3 + b]
                    + mirror[a, 2] * image[c, 6 + b]
                )
                own[a, b] -= real[c, 3 * a + b]
                image_own[3 * a + b] -= image[c, 3 * a + b]
    for a in range(3):
        for b in range(3):
            for c in range(3):
                for d in range(3):
                    own[a, b] += mirror[a, c] * image_own[3 * c + d] * mirror[d, b]


@nb.njit(cache=True, fastmath=True, error_model="numpy")
def velocity_slopes(  # type: ignore[no-untyped-def]
    points, owner, corners, seg_start, seg_end, seg_owner, seg_strength,
    ray_start, ray_along, ray_owner, ray_strength, mirror, present, core_own, core_other,
):  # fmt: skip
    """Return the slopes of the velocity at each point: (point, xyz, corner, xyz) as corners move,
    the point held, and (point, xyz, xyz) as the point moves.
    """
    count, total = points.shape[0], corners.shape[0]
    segs, rays = seg_start.shape[0], ray_start.shape[0]
    slopes = np.empty((count, 3, total, 3))
    own = np.zeros((count, 3, 3))
    v, w = np.empty((18, segs)), np.empty((9, rays))
    a, b = np.ascontiguousarray(corners[seg_start].T), np.ascontiguousarray(corners[seg_end].T)
    c, d = np.ascontiguousarray(corners[ray_start].T), np.ascontiguousarray(ray_along.T)
    real, image = np.empty((total, 9)), np.empty((total, 9))
    for p in range(count):
        px, py, pz = points[p, 0], points[p, 1], points[p, 2]
        mine = owner[p]
        real[:] = 0.0
        image[:] = 0.0
        for side in range(2 if present else 1):
            to = real if side == 0 else image
            x, y, z = px, py, pz
            if side == 1:
                x = mirror[0, 0] * px + mirror[0, 1] * py + mirror[0, 2] * pz
                y = mirror[1, 0] * px + mirror[1, 1] * py + mirror[1, 2] * pz
                z = mirror[2, 0] * px + mirror[2, 1] * py + mirror[2, 2] * pz
            for s in range(segs):
                core2 = core_own if seg_owner[s] == mine else core_other
                (
                    v[0, s], v[1, s], v[2, s], v[3, s], v[4, s], v[5, s], v[6, s], v[7, s],
                    v[8, s], v[9, s], v[10, s], v[11, s], v[12, s], v[13, s], v[14, s], v[15, s],
                    v[16, s], v[17, s],
                ) = _segment_slopes(
                    x - a[0, s], y - a[1, s], z - a[2, s],
                    x - b[0, s], y - b[1, s], z - b[2, s], core2, seg_strength[s],
                )  # fmt: skip
            _spread(to, seg_start, v[:9])
            _spread(to, seg_end, v[9:])
            for s in range(rays):
                core2 = core_own if ray_owner[s] == mine else core_other
                (
                    w[0, s], w[1, s], w[2, s], w[3, s], w[4, s], w[5, s], w[6, s], w[7, s],
                    w[8, s],
                ) = _ray_slopes(
                    x - c[0, s], y - c[1, s], z - c[2, s], d[0, s], d[1, s], d[2, s],
                    core2, ray_strength[s],
                )  # fmt: skip
            _spread(to, ray_start, w)
        _together(real, image, mirror, slopes[p], own[p])
    return slopes, own
