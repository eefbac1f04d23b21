"""Compiled sums of the loads' tangent: each leg and each panel touches only a few nodes.

Symbols: `l` legs, `r` rings, `n` nodes; lists of neighbours as (start, index, weight), the entries
of row i standing at start[i] … start[i + 1].
"""

from __future__ import annotations

import numba as nb
import numpy as np


@nb.njit(cache=True, fastmath=True, error_model="numpy")
def load_by_ring(  # type: ignore[no-untyped-def]
    start, leg, weight, strength, reach, push, influence, ring, share
):  # fmt: skip
    """Fill (node, xyz, ring): load on each node for a unit of circulation in each ring.

    A leg's force changes with the velocity that a ring sends it, v x reach per unit strength, and
    with its own strength, `push`.
    """
    legs, rings = influence.shape[0], influence.shape[1]
    by_leg = np.empty((legs, 3, rings))
    for s in range(legs):
        lx, ly, lz = strength[s] * reach[s, 0], strength[s] * reach[s, 1], strength[s] * reach[s, 2]
        for r in range(rings):
            vx, vy, vz = influence[s, r, 0], influence[s, r, 1], influence[s, r, 2]
            by_leg[s, 0, r] = vy * lz - vz * ly
            by_leg[s, 1, r] = vz * lx - vx * lz
            by_leg[s, 2, r] = vx * ly - vy * lx
        for k in range(2):
            r = ring[s, k]
            if r >= 0:
                for a in range(3):
                    by_leg[s, a, r] += share[s, k] * push[s, a]
    nodes = start.shape[0] - 1
    out = np.zeros((nodes, 3, rings))
    for n in range(nodes):
        for e in range(start[n], start[n + 1]):
            part, s = weight[e], leg[e]
            for a in range(3):
                for r in range(rings):
                    out[n, a, r] += part * by_leg[s, a, r]
    return out


@nb.njit(cache=True, fastmath=True, error_model="numpy")
def load_by_node(  # type: ignore[no-untyped-def]
    start, ring, chord_weight, span_weight, turn_chord, turn_span, by_ring
):  # fmt: skip
    """Fill (load, node and xyz): change of every load when a node moves and turns its panels.

    `by_ring` (ring, load) is what a unit of leak through each panel does to the loads.
    """
    nodes, loads = start.shape[0] - 1, by_ring.shape[1]
    out = np.empty((loads, 3 * nodes))
    column = np.empty((3, loads))
    for n in range(nodes):
        column[:] = 0.0
        for e in range(start[n], start[n + 1]):
            r = ring[e]
            for a in range(3):
                leak = chord_weight[e] * turn_chord[r, a] + span_weight[e] * turn_span[r, a]
                for k in range(loads):
                    column[a, k] += leak * by_ring[r, k]
        for k in range(loads):
            for a in range(3):
                out[k, 3 * n + a] = column[a, k]
    return out


@nb.njit(cache=True, fastmath=True, error_model="numpy")
def add_own_turn(  # type: ignore[no-untyped-def]
    tangent, start, leg, weight, end_start, end_node, end_weight, force
):  # fmt: skip
    """Add how each leg's force turns and grows with the leg itself, `force` x change of the leg."""
    for n in range(start.shape[0] - 1):
        for e in range(start[n], start[n + 1]):
            s = leg[e]
            fx, fy, fz = weight[e] * force[s, 0], weight[e] * force[s, 1], weight[e] * force[s, 2]
            for k in range(end_start[s], end_start[s + 1]):
                m, part = 3 * end_node[k], end_weight[k]
                tangent[3 * n, m + 1] -= part * fz
                tangent[3 * n, m + 2] += part * fy
                tangent[3 * n + 1, m] += part * fz
                tangent[3 * n + 1, m + 2] -= part * fx
                tangent[3 * n + 2, m] -= part * fy
                tangent[3 * n + 2, m + 1] += part * fx
