"""Compiled bending of battens: what it takes to turn each joint of a chain of points.

A joint between two legs turned by theta has the curvature 2 tan(theta / 2) / s over the half legs
beside it, s in all: it grows without bound as the chain doubles back. With the second difference of
the points in its place a batten folded right over would be as much at rest as a straight one.
"""

from __future__ import annotations

import math

import numba as nb
import numpy as np

from luffwright.sails.assembly_kernel import add_gradient, add_tangent

DOUBLED_BACK = 1e-3
"""Least 1 + cos theta that is told from a batten doubled back."""


@nb.njit(cache=True)
def assemble_bends(x, joint, stiff, first, column, weight, g, k):  # type: ignore[no-untyped-def]
    """Add the joints' moments, energy 2 (EI / s) tan² (theta / 2), and return their energy.

    `joint` (n, 3): the points before, at and behind each joint; `stiff` (n,): EI / s [N m].
    """
    energy = 0.0
    u, v = np.zeros(3), np.zeros(3)
    slope = np.zeros((3, 3))
    hess = np.zeros((2, 2, 3, 3))
    sign = ((-1.0, 1.0, 0.0), (0.0, -1.0, 1.0))
    for n in range(joint.shape[0]):
        a, b, d = joint[n, 0], joint[n, 1], joint[n, 2]
        one, two, c = 1e-18, 1e-18, 0.0
        for i in range(3):
            u[i], v[i] = x[b, i] - x[a, i], x[d, i] - x[b, i]
            one += u[i] * u[i]
            two += v[i] * v[i]
        one, two = math.sqrt(one), math.sqrt(two)
        for i in range(3):
            u[i] /= one
            v[i] /= two
            c += u[i] * v[i]
        open_ = max(1.0 + c, DOUBLED_BACK)
        energy += stiff[n] * 2.0 * (1.0 - c) / open_
        first_slope = -4.0 * stiff[n] / open_**2
        second = 8.0 * stiff[n] / open_**3
        for i in range(3):
            by_u, by_v = (v[i] - c * u[i]) / one, (u[i] - c * v[i]) / two
            slope[0, i], slope[1, i], slope[2, i] = -by_u, by_u - by_v, by_v
            for j in range(3):
                same = 1.0 if i == j else 0.0
                hess[0, 0, i, j] = (
                    3.0 * c * u[i] * u[j] - u[i] * v[j] - v[i] * u[j] - c * same
                ) / (one * one)
                hess[1, 1, i, j] = (
                    3.0 * c * v[i] * v[j] - u[i] * v[j] - v[i] * u[j] - c * same
                ) / (two * two)
                cross = (same - u[i] * u[j] - v[i] * v[j] + c * u[i] * v[j]) / (one * two)
                hess[0, 1, i, j] = cross
                hess[1, 0, j, i] = cross
        for p in range(3):
            for i in range(3):
                row = 3 * joint[n, p] + i
                add_gradient(g, row, first_slope * slope[p, i], first, column, weight)
                for q in range(3):
                    for j in range(3):
                        value = second * slope[p, i] * slope[q, j]
                        for s in range(2):
                            for t in range(2):
                                value += first_slope * sign[s][p] * sign[t][q] * hess[s, t, i, j]
                        col = 3 * joint[n, q] + j
                        add_tangent(k, row, col, value, first, column, weight)
    return energy
