"""Sailcloth as an orthotropic membrane that carries tension only."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from luffwright.arrays import FloatArray, IntArray
from luffwright.frames import cross
from luffwright.sails.membrane_kernel import linear_strain, membrane_terms

RESIDUAL = 1e-4
"""Share of the cloth's stiffness kept in wrinkled and slack directions, so that every node stays
held: at 1e-4 the shape moves by less than a thousandth of the chord (seen when halved)."""


@dataclass(frozen=True)
class Membrane:
    """Triangles at rest: `shape` slopes of the corner functions in fibre axes, (m, 3, 2) [1/m],
    `area` [m²], `stiffness` (m, 3, 3) [N/m] and its inverse.
    """

    triangles: IntArray
    shape: FloatArray
    area: FloatArray
    stiffness: FloatArray
    compliance: FloatArray


@dataclass(frozen=True)
class MembraneState:
    """Energy [J], its gradient by element corner (m, 3, 3) [N] and tangent (m, 9, 9) [N/m];
    stress [N/m], strain, and condition: 0 taut, 1 wrinkled, 2 slack.
    """

    energy: float
    gradient: FloatArray
    tangent: FloatArray
    stress: FloatArray
    strain: FloatArray
    condition: IntArray


def orthotropic(warp: float, fill: float, shear: float, poisson: float) -> FloatArray:
    r"""Return the plane-stress stiffness of woven cloth in its fibre axes.

    .. math:: C = \frac{1}{1-\nu\nu'}\begin{pmatrix}E_1 & \nu' E_1 & 0\\ \nu' E_1 & E_2 & 0\\
        0 & 0 & (1-\nu\nu') G\end{pmatrix},\quad \nu' = \nu E_2 / E_1

    Parameters
    ----------
    warp, fill, shear : float
        Moduli times thickness, along the first axis, the second, and in shear. [N/m]
    poisson : float
        Contraction along the second axis for a pull along the first. [-]

    Returns
    -------
    (3, 3) array
        Stiffness on (Exx, Eyy, 2 Exy). [N/m]

    References
    ----------
    .. [1] Jones, *Mechanics of Composite Materials*, 2nd ed., Taylor & Francis, 1999, eq. 2.61
       (from memory).

    Examples
    --------
    >>> orthotropic(100.0, 100.0, 40.0, 0.25).round(2)
    array([[106.67,  26.67,   0.  ],
           [ 26.67, 106.67,   0.  ],
           [  0.  ,   0.  ,  40.  ]])
    """
    other = poisson * fill / warp
    below = 1.0 - poisson * other
    return np.array(
        [
            [warp / below, other * warp / below, 0.0],
            [other * warp / below, fill / below, 0.0],
            [0.0, 0.0, shear],
        ]
    )


def membrane(
    rest: FloatArray, triangles: IntArray, fibre: FloatArray, stiffness: FloatArray
) -> Membrane:
    """Return the cloth cut to the rest surface: each triangle is flat and unloaded there.

    Parameters
    ----------
    rest : (n, 3) array
        Nodes of the moulded surface. [m]
    triangles : (m, 3) array
        Node numbers.
    fibre : (m, 3) array
        Direction of the warp at each triangle. [-]
    stiffness : (m, 3, 3) array
        In fibre axes. [N/m]

    Returns
    -------
    Membrane
    """
    corner = rest[triangles]
    one, two = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
    normal = cross(one, two)
    double = np.linalg.norm(normal, axis=1)
    normal /= double[:, None]
    first = fibre - np.sum(fibre * normal, axis=1)[:, None] * normal
    first /= np.linalg.norm(first, axis=1)[:, None]
    second = cross(normal, first)
    edge = np.zeros((len(triangles), 2, 2))
    for column, side in enumerate((one, two)):
        edge[:, 0, column] = np.sum(side * first, axis=1)
        edge[:, 1, column] = np.sum(side * second, axis=1)
    inverse = np.linalg.inv(edge)
    shape = np.concatenate([-inverse.sum(axis=1, keepdims=True), inverse], axis=1)
    return Membrane(
        triangles,
        np.ascontiguousarray(shape),
        0.5 * double,
        np.ascontiguousarray(stiffness),
        np.ascontiguousarray(np.linalg.inv(stiffness)),
    )


def membrane_forces(
    cloth: Membrane,
    nodes: FloatArray,
    residual: float = RESIDUAL,
    guess: FloatArray | None = None,
) -> MembraneState:
    """Return energy, forces and stiffness of the cloth at the nodes given.

    Parameters
    ----------
    cloth : Membrane
    nodes : (n, 3) array
        Places of all nodes. [m]
    residual : float
        Share of stiffness kept where the cloth is wrinkled or slack. [-]
    guess : (m, 3) array, optional
        Strain at which to take the law, in a Newton step on strains and places together. [-]

    Returns
    -------
    MembraneState
    """
    count = len(cloth.triangles)
    gradient, tangent = np.zeros((count, 3, 3)), np.zeros((count, 9, 9))
    stress, strain = np.zeros((count, 3)), np.zeros((count, 3))
    condition = np.zeros(count, dtype=np.int64)
    energy = membrane_terms(
        nodes, cloth.triangles, cloth.shape, cloth.area, cloth.stiffness, cloth.compliance,
        residual, strain if guess is None else guess, guess is not None,
        gradient, tangent, stress, strain, condition,
    )  # fmt: skip
    return MembraneState(energy, gradient, tangent, stress, strain, condition)


def strain_ahead(cloth: Membrane, nodes: FloatArray, step: FloatArray) -> FloatArray:
    """Return the strain that a step promises by its linear part, (m, 3).

    Parameters
    ----------
    cloth : Membrane
    nodes, step : (n, 3) arrays
        Places and their change. [m]

    Returns
    -------
    (m, 3) array
    """
    strain = np.zeros((len(cloth.triangles), 3))
    linear_strain(nodes, step, cloth.triangles, cloth.shape, strain)
    return strain
