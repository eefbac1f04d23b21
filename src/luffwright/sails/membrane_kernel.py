"""Compiled cloth: constant-strain triangles that carry tension only.

Symbols: E Green-Lagrange strain (Voigt e = Exx, Eyy, 2 Exy), C stiffness, H = C⁻¹, S stress,
m(theta) = (cos², sin², cos sin) a uniaxial stress along theta.

Relaxed energy per rest area: taut 1/2 e·C·e; wrinkled max over theta of (m·e)² / (2 m·H·m) with
m·e > 0; slack nothing. The direction that maximises the energy is, in orthotropic cloth, not the
principal direction of stress; the tangent follows the direction as it turns.
"""

from __future__ import annotations

import math

import numba as nb
import numpy as np

# Below this the energy, its square, would no longer be a number to divide by.
NO_STRAIN = 1e-100
_TWELFTHS = np.arange(12) * math.pi / 12
ROUND = np.stack([np.cos(_TWELFTHS) ** 2, np.sin(_TWELFTHS) ** 2, 0.5 * np.sin(2 * _TWELFTHS)], 1)
"""Uniaxial stresses m along twelve directions."""


@nb.njit(inline="always")
def _direction(theta, e, h):  # type: ignore[no-untyped-def]
    """Energy, its first and second slope in theta, uniaxial strain and compliance."""
    c, s = math.cos(theta), math.sin(theta)
    m = (c * c, s * s, c * s)
    d = (-2 * c * s, 2 * c * s, c * c - s * s)
    q = (-2 * d[2], 2 * d[2], -4 * c * s)
    strain = m[0] * e[0] + m[1] * e[1] + m[2] * e[2]
    strain1 = d[0] * e[0] + d[1] * e[1] + d[2] * e[2]
    strain2 = q[0] * e[0] + q[1] * e[1] + q[2] * e[2]
    soft, soft1, soft2 = 0.0, 0.0, 0.0
    for a in range(3):
        hm = h[a, 0] * m[0] + h[a, 1] * m[1] + h[a, 2] * m[2]
        hd = h[a, 0] * d[0] + h[a, 1] * d[1] + h[a, 2] * d[2]
        soft += m[a] * hm
        soft1 += 2 * d[a] * hm
        soft2 += 2 * (q[a] * hm + d[a] * hd)
    energy = 0.5 * strain * strain / soft
    slope = strain * strain1 / soft - 0.5 * strain * strain * soft1 / soft**2
    bend = (
        (strain1 * strain1 + strain * strain2) / soft
        - 2 * strain * strain1 * soft1 / soft**2
        + strain * strain * soft1 * soft1 / soft**3
        - 0.5 * strain * strain * soft2 / soft**2
    )
    return energy, slope, bend, strain, strain1, soft, soft1


@nb.njit(inline="always")
def _wrinkle_angle(e, h):  # type: ignore[no-untyped-def]
    """Angle of greatest relaxed energy with positive strain, or -100 when there is none."""
    theta = 0.5 * math.atan2(e[2], e[0] - e[1])
    best, _, _, strain, _, _, _ = _direction(theta, e, h)
    if strain <= NO_STRAIN:
        return -100.0
    for n in range(12):
        a, b, c = ROUND[n, 0], ROUND[n, 1], ROUND[n, 2]
        strain = a * e[0] + b * e[1] + c * e[2]
        if strain <= 0.0:
            continue
        soft = (
            a * (h[0, 0] * a + 2.0 * (h[0, 1] * b + h[0, 2] * c))
            + b * (h[1, 1] * b + 2.0 * h[1, 2] * c)
            + c * h[2, 2] * c
        )
        energy = 0.5 * strain * strain / soft
        if energy > best:
            best, theta = energy, n * math.pi / 12
    reach = math.pi / 12
    for _ in range(30):
        energy, slope, bend, strain, _, _, _ = _direction(theta, e, h)
        climb = math.copysign(reach, slope)
        step = min(max(-slope / bend, -reach), reach) if bend < 0.0 else climb
        trial, _, _, strain, _, _, _ = _direction(theta + step, e, h)
        if strain > 0.0 and trial >= energy * (1.0 - 1e-14):
            theta += step
        else:
            reach *= 0.3
            continue
        if abs(step) < 1e-11:
            break
    return theta


@nb.njit(inline="always")
def relaxed_law(e, c, h, residual, stress, tangent):  # type: ignore[no-untyped-def]
    """Fill stress (3) and tangent (3, 3); return energy and 0 taut, 1 wrinkled, 2 slack."""
    full = np.zeros(3)
    for a in range(3):
        full[a] = c[a, 0] * e[0] + c[a, 1] * e[1] + c[a, 2] * e[2]
    whole = 0.5 * (full[0] * e[0] + full[1] * e[1] + full[2] * e[2])
    if full[0] + full[1] > 0.0 and full[0] * full[1] - full[2] * full[2] >= 0.0:
        for a in range(3):
            stress[a] = full[a] * (1 + residual)
            for b in range(3):
                tangent[a, b] = c[a, b] * (1 + residual)
        return whole * (1 + residual), 0
    for a in range(3):
        stress[a] = residual * full[a]
        for b in range(3):
            tangent[a, b] = residual * c[a, b]
    theta = _wrinkle_angle(e, h)
    if theta == -100.0:
        return residual * whole, 2
    energy, _, bend, strain, strain1, soft, soft1 = _direction(theta, e, h)
    cs, sn = math.cos(theta), math.sin(theta)
    m = (cs * cs, sn * sn, cs * sn)
    d = (-2 * cs * sn, 2 * cs * sn, cs * cs - sn * sn)
    ratio = strain / soft
    turn = strain1 / soft - strain * soft1 / soft**2
    curve = min(bend, -0.05 * energy)
    cross = (turn * m[0] + ratio * d[0], turn * m[1] + ratio * d[1], turn * m[2] + ratio * d[2])
    for a in range(3):
        stress[a] += ratio * m[a]
        for b in range(3):
            tangent[a, b] += m[a] * m[b] / soft - cross[a] * cross[b] / curve
    return energy + residual * whole, 1


@nb.njit(cache=True, error_model="numpy")
def membrane_terms(  # type: ignore[no-untyped-def]
    x, triangles, shape, area, stiffness, compliance, residual, guess, mixed,
    gradient, tangent, stress, strain, condition,
):  # fmt: skip
    """Fill gradient (m, 3, 3), tangent (m, 9, 9), stress, strain (m, 3), condition; return energy.

    With `mixed`, the law is taken at the strain `guess` instead of the nodes' own, and the gradient
    follows it linearly to the nodes' own strain: Newton on strain and place as two unknowns.
    """
    energy = 0.0
    law = np.zeros((3, 3))
    f = np.zeros((3, 2))
    rows = np.zeros((9, 3))
    pull = np.zeros(3)
    away = np.zeros(3)
    for t in range(triangles.shape[0]):
        for i in range(3):
            for j in range(2):
                f[i, j] = 0.0
                for a in range(3):
                    f[i, j] += x[triangles[t, a], i] * shape[t, a, j]
        e = strain[t]
        e[0] = 0.5 * (f[0, 0] ** 2 + f[1, 0] ** 2 + f[2, 0] ** 2 - 1.0)
        e[1] = 0.5 * (f[0, 1] ** 2 + f[1, 1] ** 2 + f[2, 1] ** 2 - 1.0)
        e[2] = f[0, 0] * f[0, 1] + f[1, 0] * f[1, 1] + f[2, 0] * f[2, 1]
        s = stress[t]
        at = guess[t] if mixed else e
        density, condition[t] = relaxed_law(at, stiffness[t], compliance[t], residual, s, law)
        energy += area[t] * density
        for a in range(3):
            away[a] = e[a] - at[a]
        for a in range(3):
            pull[a] = s[a] + law[a, 0] * away[0] + law[a, 1] * away[1] + law[a, 2] * away[2]
        for a in range(3):
            n1, n2 = shape[t, a, 0], shape[t, a, 1]
            for i in range(3):
                row = 3 * a + i
                rows[row, 0] = f[i, 0] * n1
                rows[row, 1] = f[i, 1] * n2
                rows[row, 2] = f[i, 0] * n2 + f[i, 1] * n1
                gradient[t, a, i] = area[t] * (
                    rows[row, 0] * pull[0] + rows[row, 1] * pull[1] + rows[row, 2] * pull[2]
                )
        for p in range(9):
            l0 = law[0, 0] * rows[p, 0] + law[0, 1] * rows[p, 1] + law[0, 2] * rows[p, 2]
            l1 = law[1, 0] * rows[p, 0] + law[1, 1] * rows[p, 1] + law[1, 2] * rows[p, 2]
            l2 = law[2, 0] * rows[p, 0] + law[2, 1] * rows[p, 1] + law[2, 2] * rows[p, 2]
            for q in range(9):
                tangent[t, p, q] = area[t] * (l0 * rows[q, 0] + l1 * rows[q, 1] + l2 * rows[q, 2])
        for a in range(3):
            for b in range(3):
                n1, n2 = shape[t, b, 0], shape[t, b, 1]
                around = area[t] * (
                    shape[t, a, 0] * (s[0] * n1 + s[2] * n2)
                    + shape[t, a, 1] * (s[2] * n1 + s[1] * n2)
                )
                for i in range(3):
                    tangent[t, 3 * a + i, 3 * b + i] += around
    return energy


@nb.njit(cache=True)
def linear_strain(x, step, triangles, shape, strain):  # type: ignore[no-untyped-def]
    """Fill strain (m, 3): that at x and its linear change along the step."""
    f = np.zeros((3, 2))
    d = np.zeros((3, 2))
    for t in range(triangles.shape[0]):
        for i in range(3):
            for j in range(2):
                f[i, j] = 0.0
                d[i, j] = 0.0
                for a in range(3):
                    f[i, j] += x[triangles[t, a], i] * shape[t, a, j]
                    d[i, j] += step[triangles[t, a], i] * shape[t, a, j]
        s = strain[t]
        s[0], s[1], s[2] = -0.5, -0.5, 0.0
        for i in range(3):
            s[0] += f[i, 0] * (0.5 * f[i, 0] + d[i, 0])
            s[1] += f[i, 1] * (0.5 * f[i, 1] + d[i, 1])
            s[2] += f[i, 0] * f[i, 1] + f[i, 0] * d[i, 1] + d[i, 0] * f[i, 1]
