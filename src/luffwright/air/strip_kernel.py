"""Compiled parts of the strips' equations, as `air.strips` states them.

`s` strips of `p` panels each; `blend` mixes a strip with its neighbours, `sense` is the side of the
belly, `kept` the share of a strip that the wind does not meet from its leech.
"""

from __future__ import annotations

import math

import numba as nb
import numpy as np

from luffwright.air.stall_kernel import cloth_ratios_each


@nb.njit(cache=True, error_model="numpy")
def facing_each(value, sense):  # type: ignore[no-untyped-def]
    """Return what the belly sees and its slope, (2, n): see `strips.facing_of`."""
    out = np.empty((2, value.size))
    for k in range(value.size):
        size = math.sqrt(value[k] * value[k] + 1e-6)
        sided, flat = sense[k] * abs(sense[k]), 1.0 - sense[k] * sense[k]
        out[0, k] = sided * value[k] + flat * size
        out[1, k] = sided + flat * value[k] / size
    return out


@nb.njit(cache=True, error_model="numpy")
def gathered(fit, bend, blend, own, matrix, wash, panel, speed, sense):  # type: ignore[no-untyped-def]
    """Return how the strips meet the flow: `gather` and `bend` (s, sp) from wash, `between` (s, sp)
    from circulations but a strip's own, and what they `met` and their `camber` in this wash.
    """
    s, p = speed.size, fit.size
    gather, between, bends = np.zeros((s, s * p)), np.zeros((s, s * p)), np.zeros((s, s * p))
    met, load = np.zeros(s), np.zeros(s)
    by_load = np.empty((s, p))
    for i in range(s):
        for j in range(p):
            row = i * p + j
            over = 1.0 / (panel[row] * speed[i])
            weight = fit[j] * over
            by_load[i, j] = bend[j] * over
            gather[i, row] = weight
            met[i] += weight * wash[row]
            load[i] += by_load[i, j] * wash[row]
            for c in range(s * p):
                between[i, c] += weight * matrix[row, c]
            for q in range(p):
                between[i, i * p + q] -= weight * own[i, j, q]
    camber, slope = facing_each(blend @ load, sense)
    for i in range(s):
        for k in range(s):
            mixed = slope[i] * blend[i, k]
            if mixed != 0.0:
                for j in range(p):
                    bends[i, k * p + j] = mixed * by_load[k, j]
    return gather, between, bends, met, camber


@nb.njit(cache=True, error_model="numpy")
def carried_at(incidence, blend, sense, camber, holds, kept, least, cells):  # type: ignore[no-untyped-def]
    """Return the lift ratios at given incidences, the slopes from incidences to facing ones, and
    the fall of 1 / ratio with the facing incidence and with the camber's load.
    """
    facing, slope = facing_each(blend @ incidence, sense)
    ratio, steep, bent = cloth_ratios_each(facing, camber, holds, cells)
    turn = np.empty(blend.shape)
    for i in range(incidence.size):
        ratio[i] = kept[i] * ratio[i] + (1.0 - kept[i]) * least
        steep[i] *= kept[i] / ratio[i] ** 2
        bent[i] *= kept[i] / ratio[i] ** 2
        for k in range(incidence.size):
            turn[i, k] = slope[i] * blend[i, k]
    return ratio, turn, steep, bent


@nb.njit(cache=True, error_model="numpy")
def raised(columns, own, ratio):  # type: ignore[no-untyped-def]
    """Return the matrix, transposed, with each strip's influence on itself divided by its ratio."""
    out = columns.copy()
    p = own.shape[1]
    for i in range(own.shape[0]):
        more = 1.0 / ratio[i] - 1.0
        for q in range(p):
            for j in range(p):
                out[i * p + q, i * p + j] += more * own[i, j, q]
    return out


@nb.njit(cache=True, error_model="numpy")
def pressed_by(own, circulation, steep, turn):  # type: ignore[no-untyped-def]
    """Return what each strip's own circulations stop at its panels for a unit rise of 1 / ratio,
    (s, p), and for unit incidences what that pushes, (s, sp): transposed, as LAPACK wants it.
    """
    s, p = own.shape[0], own.shape[1]
    pressed, pushed = np.zeros((s, p)), np.zeros((s, s * p))
    for i in range(s):
        for j in range(p):
            for q in range(p):
                pressed[i, j] += own[i, j, q] * circulation[i * p + q]
            for k in range(s):
                pushed[k, i * p + j] = pressed[i, j] * steep[i] * turn[i, k]
    return pressed, pushed
