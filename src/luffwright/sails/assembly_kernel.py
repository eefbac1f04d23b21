"""Compiled sums of cloth, ropes and contact into one residual and one tangent.

Every point of the boat is a linear combination of the unknowns, `x = B q + c`. `B` comes as the
rows of a sparse matrix (`first`, `column`, `weight`), so that an element's force and stiffness go
straight to the unknowns: gradient `g` += Bᵀ f, tangent `k` += Bᵀ K B.
"""

from __future__ import annotations

import math

import numba as nb
import numpy as np

SLACK = 1e-4


@nb.njit(inline="always")
def add_gradient(g, row, value, first, column, weight):  # type: ignore[no-untyped-def]
    for m in range(first[row], first[row + 1]):
        g[column[m]] += weight[m] * value


@nb.njit(inline="always")
def _across(u, v, nodes, x, axis):  # type: ignore[no-untyped-def]
    """Return how a bilinear quad's coordinate changes along its two sides at (u, v)."""
    a, b, c, d = x[nodes[0], axis], x[nodes[1], axis], x[nodes[2], axis], x[nodes[3], axis]
    return (1 - v) * (b - a) + v * (d - c), (1 - u) * (c - a) + u * (d - b)


@nb.njit(inline="always")
def add_tangent(k, row, col, value, first, column, weight):  # type: ignore[no-untyped-def]
    for m in range(first[row], first[row + 1]):
        left = weight[m] * value
        for n in range(first[col], first[col + 1]):
            k[column[m], column[n]] += left * weight[n]


@nb.njit(cache=True)
def assemble_cloth(triangles, gradient, tangent, first, column, weight, g, k):  # type: ignore[no-untyped-def]
    """Add the cloth's forces, (m, 3, 3), and stiffness blocks, (m, 9, 9)."""
    for e in range(triangles.shape[0]):
        for a in range(9):
            row = 3 * triangles[e, a // 3] + a % 3
            add_gradient(g, row, gradient[e, a // 3, a % 3], first, column, weight)
            for b in range(9):
                col = 3 * triangles[e, b // 3] + b % 3
                add_tangent(k, row, col, tangent[e, a, b], first, column, weight)


@nb.njit(cache=True)
def assemble_ropes(  # type: ignore[no-untyped-def]
    x, begin, point, length, knot, spring, both, guess, mixed, exact, first, column, weight, g, k,
    pull, whole,
):  # fmt: skip
    """Add ropes that run freely through chains of points: one tension each, none when slack.

    With `mixed` the tension is that of the stretch `guess`, followed linearly to the rope's own.
    `exact` = 1 lets a push soften the tangent, 0 leaves that out. A leg is no shorter than `knot`:
    drawn right to its block a rope of none would pull any way at all.
    """
    energy = 0.0
    for s in range(begin.shape[0] - 1):
        count = begin[s + 1] - begin[s]
        total = 0.0
        unit = np.zeros((count, 3))
        leg = np.zeros(count)
        slope = np.zeros((count, 3))
        for a in range(count - 1):
            p, q = point[begin[s] + a], point[begin[s] + a + 1]
            dx, dy, dz = x[q, 0] - x[p, 0], x[q, 1] - x[p, 1], x[q, 2] - x[p, 2]
            # As in linear_stretch: what a step promises is then exactly what it is measured by.
            size = math.sqrt(dx * dx + dy * dy + dz * dz + 1e-18 + knot[s] * knot[s])
            unit[a, 0], unit[a, 1], unit[a, 2] = dx / size, dy / size, dz / size
            leg[a] = size
            total += size
            for c in range(3):
                slope[a, c] -= unit[a, c]
                slope[a + 1, c] += unit[a, c]
        stretch = total - length[s]
        whole[s] = stretch
        at = guess[s] if mixed else stretch
        stiff = spring[s]
        if at < 0.0 and both[s] == 0:
            stiff *= SLACK
        tension = stiff * stretch
        pull[s] = stiff * at
        energy += 0.5 * stiff * stretch * stretch
        for a in range(count):
            for c in range(3):
                row = 3 * point[begin[s] + a] + c
                add_gradient(g, row, tension * slope[a, c], first, column, weight)
                for b in range(count):
                    for d in range(3):
                        value = stiff * slope[a, c] * slope[b, d]
                        col = 3 * point[begin[s] + b] + d
                        add_tangent(k, row, col, value, first, column, weight)
        for a in range(count - 1):
            # A push softens the rope sideways. Far from balance that only leads astray.
            around = (max(pull[s], 0.0) + exact * both[s] * min(pull[s], 0.0)) / leg[a]
            for c in range(3):
                for d in range(3):
                    value = -around * unit[a, c] * unit[a, d]
                    if c == d:
                        value += around
                    p = 3 * point[begin[s] + a]
                    q = 3 * point[begin[s] + a + 1]
                    add_tangent(k, p + c, p + d, value, first, column, weight)
                    add_tangent(k, q + c, q + d, value, first, column, weight)
                    add_tangent(k, p + c, q + d, -value, first, column, weight)
                    add_tangent(k, q + c, p + d, -value, first, column, weight)
    return energy


@nb.njit(cache=True)
def assemble_contact(x, begin, rows, columns, blocker, hard, first, column, weight, g, k, press):  # type: ignore[no-untyped-def]
    """Add one-sided contact of a sail's grid with points that it must pass to leeward."""
    for o in range(blocker.shape[0]):
        b = blocker[o]
        px, py, pz = x[b, 0], x[b, 1], x[b, 2]
        press[o] = 0.0
        found = False
        for j in range(rows - 1):
            for i in range(columns - 1):
                n0 = begin + j * columns + i
                nodes = (n0, n0 + 1, n0 + columns, n0 + columns + 1)
                low, high = x[nodes[0], 0], x[nodes[0], 0]
                zlow, zhigh = x[nodes[0], 2], x[nodes[0], 2]
                for t in range(1, 4):
                    low, high = min(low, x[nodes[t], 0]), max(high, x[nodes[t], 0])
                    zlow, zhigh = min(zlow, x[nodes[t], 2]), max(zhigh, x[nodes[t], 2])
                if found or px < low or px > high or pz < zlow or pz > zhigh:
                    continue
                u, v = 0.5, 0.5
                for _ in range(6):
                    w = ((1 - u) * (1 - v), u * (1 - v), (1 - u) * v, u * v)
                    fx, fz = -px, -pz
                    for t in range(4):
                        fx += w[t] * x[nodes[t], 0]
                        fz += w[t] * x[nodes[t], 2]
                    xu, xv = _across(u, v, nodes, x, 0)
                    zu, zv = _across(u, v, nodes, x, 2)
                    det = xu * zv - xv * zu
                    if abs(det) < 1e-12:
                        break
                    u -= (fx * zv - fz * xv) / det
                    v -= (fz * xu - fx * zu) / det
                if u < -1e-6 or u > 1.000001 or v < -1e-6 or v > 1.000001:
                    continue
                found = True
                w = ((1 - u) * (1 - v), u * (1 - v), (1 - u) * v, u * v)
                depth = py
                for t in range(4):
                    depth -= w[t] * x[nodes[t], 1]
                if depth <= 0.0:
                    continue
                press[o] = hard * depth
                add_gradient(g, 3 * b + 1, hard * depth, first, column, weight)
                add_tangent(k, 3 * b + 1, 3 * b + 1, hard, first, column, weight)
                for t in range(4):
                    row = 3 * nodes[t] + 1
                    add_gradient(g, row, -hard * depth * w[t], first, column, weight)
                    add_tangent(k, row, 3 * b + 1, -hard * w[t], first, column, weight)
                    add_tangent(k, 3 * b + 1, row, -hard * w[t], first, column, weight)
                    for s in range(4):
                        push = hard * w[t] * w[s]
                        add_tangent(k, row, 3 * nodes[s] + 1, push, first, column, weight)


@nb.njit(cache=True)
def linear_stretch(x, step, begin, point, length, knot, stretch):  # type: ignore[no-untyped-def]
    """Fill the stretch of each rope at x with its linear change along the step."""
    for s in range(begin.shape[0] - 1):
        total = -length[s]
        for a in range(begin[s + 1] - begin[s] - 1):
            p, q = point[begin[s] + a], point[begin[s] + a + 1]
            size = 1e-18 + knot[s] * knot[s]
            along = 0.0
            for c in range(3):
                d = x[q, c] - x[p, c]
                size += d * d
                along += d * (step[q, c] - step[p, c])
            size = math.sqrt(size)
            total += size + along / size
        stretch[s] = total


@nb.njit(cache=True)
def assemble_loads(tangent, first, column, weight, k):  # type: ignore[no-untyped-def]
    """Take the tangent of loads on the sails' nodes, (3n, 3n), off the tangent of the unknowns."""
    for row in range(tangent.shape[0]):
        for m in range(first[row], first[row + 1]):
            into, share = column[m], weight[m]
            for col in range(tangent.shape[1]):
                value = share * tangent[row, col]
                for n in range(first[col], first[col + 1]):
                    k[into, column[n]] -= value * weight[n]
