"""Compiled sum of the shadows that the strips of a sail cast on points behind it.

Symbols: `p` points, `s` strips; `e` the wind's direction at a point, `c` across it, `v` up across
it, `x` the distance behind a place of the sail.
"""

from __future__ import annotations

import numba as nb
import numpy as np


@nb.njit(inline="always")
def _step(x):  # type: ignore[no-untyped-def]
    """Return a smooth step from 0 at -1 to 1 at 1."""
    y = min(max(0.5 * (x + 1.0), 0.0), 1.0)
    return y * y * (3.0 - 2.0 * y)


@nb.njit(inline="always")
def _along(a, b):  # type: ignore[no-untyped-def]
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


@nb.njit(inline="always")
def _axes(e, c, v):  # type: ignore[no-untyped-def]
    """Fill the axes across the wind: `v` the mast's direction less its part along `e`."""
    size = np.sqrt(max(1.0 - e[2] * e[2], 1e-12))
    for a in range(3):
        v[a] = -e[2] * e[a] / size
    v[2] += 1.0 / size
    c[0] = e[1] * v[2] - e[2] * v[1]
    c[1] = e[2] * v[0] - e[0] * v[2]
    c[2] = e[0] * v[1] - e[1] * v[0]


@nb.njit(cache=True, error_model="numpy")
def shadow_cover(  # type: ignore[no-untyped-def]
    points, wind, luff, leech, share, spread, least, begins
):  # fmt: skip
    """Fill (point): how far each lies in the shadow, 0 to 1 of the loss.

    `luff`, `leech` (rows, xyz) are the sail's edges from foot to head, `share` (strips) how much of
    a shadow each strip casts. Each edge of a strip's outline is as wide as its own distance ahead
    makes it, `least` at the sail; strips join without a seam.
    """
    strips = len(share)
    out = np.zeros(len(points))
    c, v, e = np.empty(3), np.empty(3), np.empty(3)
    for p in range(len(points)):
        speed = max(np.sqrt(_along(wind[p], wind[p])), 1e-9)
        e[:] = wind[p] / speed
        _axes(e, c, v)
        across, up, along = _along(points[p], c), _along(points[p], v), _along(points[p], e)
        for s in range(strips):
            front = 0.5 * (luff[s] + luff[s + 1])
            back = 0.5 * (leech[s] + leech[s + 1])
            x_front, x_back = along - _along(front, e), along - _along(back, e)
            x = 0.5 * (x_front + x_back)
            if x <= 0.0 or share[s] == 0.0:
                continue
            w_front = spread * max(x_front, 0.0) + least
            w_back = spread * max(x_back, 0.0) + least
            w = spread * x + least
            low = 0.5 * (_along(luff[s], v) + _along(leech[s], v))
            high = 0.5 * (_along(luff[s + 1], v) + _along(leech[s + 1], v))
            wide = _step((across - _along(front, c)) / w_front)
            wide -= _step((across - _along(back, c)) / w_back)
            tall = _step((up - low) / w) - _step((up - high) / w)
            behind = _step(2.0 * x / begins - 1.0)
            out[p] += share[s] * behind * abs(wide) * tall
    return out
