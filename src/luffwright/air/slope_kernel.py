"""Compiled slopes of the Biot-Savart sums: how velocities change as filaments and points move.

Symbols as in the lattice's kernel: `r1`, `r2` from the ends of a straight vortex to the point, `c`
= r1 x r2, and the velocity c (n1 + n2) / below. `j1`, `j2` are its slopes in r1 and r2, so that a
shift of the point counts j1 + j2 and shifts of the ends -j1 and -j2.
"""

from __future__ import annotations

import math

import numba as nb
import numpy as np

_FOUR_PI = 4.0 * math.pi


@nb.njit(inline="always", fastmath=True)
def _segment_slopes(x1, y1, z1, x2, y2, z2, core2, j1, j2):  # type: ignore[no-untyped-def]
    """Fill the slopes of a straight vortex's unit velocity in r1 and r2."""
    cx = y1 * z2 - z1 * y2
    cy = z1 * x2 - x1 * z2
    cz = x1 * y2 - y1 * x2
    n1 = math.sqrt(x1 * x1 + y1 * y1 + z1 * z1) + 1e-30
    n2 = math.sqrt(x2 * x2 + y2 * y2 + z2 * z2) + 1e-30
    dot = x1 * x2 + y1 * y2 + z1 * z2
    ex, ey, ez = x1 - x2, y1 - y2, z1 - z2
    product = n1 * n2
    below = product * (product + dot) + 0.5 * core2 * (ex * ex + ey * ey + ez * ez) + 1e-30
    over = 1.0 / (below * _FOUR_PI)
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
    j1[0, 0], j1[0, 1], j1[0, 2] = cx * g1x, cx * g1y + scale * z2, cx * g1z - scale * y2
    j1[1, 0], j1[1, 1], j1[1, 2] = cy * g1x - scale * z2, cy * g1y, cy * g1z + scale * x2
    j1[2, 0], j1[2, 1], j1[2, 2] = cz * g1x + scale * y2, cz * g1y - scale * x2, cz * g1z
    j2[0, 0], j2[0, 1], j2[0, 2] = cx * g2x, cx * g2y - scale * z1, cx * g2z + scale * y1
    j2[1, 0], j2[1, 1], j2[1, 2] = cy * g2x + scale * z1, cy * g2y, cy * g2z - scale * x1
    j2[2, 0], j2[2, 1], j2[2, 2] = cz * g2x - scale * y1, cz * g2y + scale * x1, cz * g2z


@nb.njit(inline="always", fastmath=True)
def _ray_slopes(x1, y1, z1, dx, dy, dz, core2, j1):  # type: ignore[no-untyped-def]
    """Fill the slopes of the unit velocity of a vortex to infinity along d, in r1."""
    cx = dy * z1 - dz * y1
    cy = dz * x1 - dx * z1
    cz = dx * y1 - dy * x1
    n1 = math.sqrt(x1 * x1 + y1 * y1 + z1 * z1) + 1e-30
    along = x1 * dx + y1 * dy + z1 * dz
    below = n1 * (n1 - along) + 0.5 * core2 + 1e-30
    scale = 1.0 / (below * _FOUR_PI)
    fall = scale / below
    a1 = 2.0 - along / n1
    gx, gy, gz = (
        -fall * (a1 * x1 - n1 * dx),
        -fall * (a1 * y1 - n1 * dy),
        -fall * (a1 * z1 - n1 * dz),
    )
    j1[0, 0], j1[0, 1], j1[0, 2] = cx * gx, cx * gy - scale * dz, cx * gz + scale * dy
    j1[1, 0], j1[1, 1], j1[1, 2] = cy * gx + scale * dz, cy * gy, cy * gz - scale * dx
    j1[2, 0], j1[2, 1], j1[2, 2] = cz * gx - scale * dy, cz * gy + scale * dx, cz * gz


@nb.njit(inline="always", fastmath=True)
def _spread(slopes, own, mirror, mirrored, corner, strength, j):  # type: ignore[no-untyped-def]
    """Add one end's slopes to its corner and to the point; the image's turned by the mirror."""
    for a in range(3):
        for b in range(3):
            # The image's velocity is the mirrored one: its slope in an end is M j, in the point
            # M j M.
            value = j[a, b]
            if mirrored:
                value = mirror[a, 0] * j[0, b] + mirror[a, 1] * j[1, b] + mirror[a, 2] * j[2, b]
            slopes[a, corner, b] -= strength * value
            if mirrored:
                for c in range(3):
                    own[a, c] += strength * value * mirror[b, c]
            else:
                own[a, b] += strength * value


@nb.njit(cache=True, fastmath=True, error_model="numpy")
def velocity_slopes(  # type: ignore[no-untyped-def]
    points, owner, corners, seg_start, seg_end, seg_owner, seg_strength,
    ray_start, ray_along, ray_owner, ray_strength, mirror, present, core_own, core_other,
):  # fmt: skip
    """Return the slopes of the velocity at each point: (point, xyz, corner, xyz) as corners move,
    the point held, and (point, xyz, xyz) as the point moves.
    """
    count = points.shape[0]
    slopes = np.zeros((count, 3, corners.shape[0], 3))
    own = np.zeros((count, 3, 3))
    j1, j2 = np.empty((3, 3)), np.empty((3, 3))
    place = np.empty(3)
    for p in range(count):
        for image in range(2 if present else 1):
            for a in range(3):
                place[a] = points[p, a]
                if image == 1:
                    place[a] = (
                        mirror[a, 0] * points[p, 0]
                        + mirror[a, 1] * points[p, 1]
                        + mirror[a, 2] * points[p, 2]
                    )
            for s in range(seg_start.shape[0]):
                core2 = core_own if seg_owner[s] == owner[p] else core_other
                m, n = seg_start[s], seg_end[s]
                _segment_slopes(
                    place[0] - corners[m, 0], place[1] - corners[m, 1], place[2] - corners[m, 2],
                    place[0] - corners[n, 0], place[1] - corners[n, 1], place[2] - corners[n, 2],
                    core2, j1, j2,
                )  # fmt: skip
                _spread(slopes[p], own[p], mirror, image == 1, m, seg_strength[s], j1)
                _spread(slopes[p], own[p], mirror, image == 1, n, seg_strength[s], j2)
            for s in range(ray_start.shape[0]):
                core2 = core_own if ray_owner[s] == owner[p] else core_other
                m = ray_start[s]
                _ray_slopes(
                    place[0] - corners[m, 0], place[1] - corners[m, 1], place[2] - corners[m, 2],
                    ray_along[s, 0], ray_along[s, 1], ray_along[s, 2], core2, j1,
                )  # fmt: skip
                _spread(slopes[p], own[p], mirror, image == 1, m, ray_strength[s], j1)
    return slopes, own
