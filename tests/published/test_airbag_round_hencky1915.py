"""A round membrane held at its edge and pressed from below: Hencky's solution.

A quarter of the disc of radius 1, small slopes: the pressure counts as a load square to the disc.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from luffwright.arrays import FloatArray, IntArray
from luffwright.sails.cut import triangles
from luffwright.sails.membrane import MembraneState, membrane, membrane_forces, orthotropic

STIFFNESS = 1e5
PRESSURE = 10.0
"""On a radius of 1 m it lifts the middle by 3 % of the radius: slopes stay below 0.15."""
WORK = (
    "Hencky, Über den Spannungszustand in kreisrunden Platten mit verschwindender "
    "Biegungssteifigkeit, Zeitschrift für Mathematik und Physik 63, 1915"
)
SOLVED = "its equation solved independently by shooting to 1e-9"


def _disc(quads: int) -> tuple[FloatArray, IntArray]:
    """Return nodes and triangles of a quarter disc: a square grid drawn out to the circle."""
    side = np.linspace(0.0, 1.0, quads + 1)
    x, y = np.meshgrid(side[::-1], side)
    nodes = np.stack([x * np.sqrt(1 - y**2 / 2), y * np.sqrt(1 - x**2 / 2), 0 * x], axis=-1)
    return nodes.reshape(-1, 3), triangles(quads + 1, quads + 1)


@cache
def pressed(quads: int, poisson: float) -> tuple[FloatArray, MembraneState]:
    """Return nodes and state in balance; an odd number of quads lets no triangle lie flat."""
    rest, faces = _disc(quads)
    law = orthotropic(STIFFNESS, STIFFNESS, STIFFNESS / (2.0 * (1.0 + poisson)), poisson)
    count = len(faces)
    cloth = membrane(
        rest, faces, np.tile([1.0, 0.0, 0.0], (count, 1)), np.broadcast_to(law, (count, 3, 3))
    )
    load = np.zeros((len(rest), 3))
    np.add.at(load[:, 2], faces, PRESSURE * cloth.area[:, None] / 3.0)
    radius = np.hypot(rest[:, 0], rest[:, 1])
    held = rest == 0.0
    held[:, 2] = False
    held[radius > 1.0 - 1e-9] = True
    free = np.flatnonzero(~held.ravel())
    place = (3 * faces[:, :, None] + np.arange(3)).reshape(count, 9)
    x = rest.copy()
    x[:, 2] = 0.05 * (1.0 - radius**2)
    for _ in range(40):
        state = membrane_forces(cloth, x)
        force = -load.ravel()
        np.add.at(force, place, state.gradient.reshape(count, 9))
        if np.max(np.abs(force[free])) < 1e-9 * PRESSURE:
            break
        stiffness = np.zeros((x.size, x.size))
        np.add.at(stiffness, (place[:, :, None], place[:, None, :]), state.tangent)
        x.ravel()[free] -= np.linalg.solve(stiffness[np.ix_(free, free)], force[free])
    assert np.max(np.abs(force[free])) < 1e-8 * PRESSURE
    return x, state


@pytest.mark.source(
    work=WORK,
    where=SOLVED + ": w0 = k a (p a / E t)^(1/3), k for five values of Poisson's ratio",
    tolerance="rel 0.2 %: 15 triangles a radius",
)
@pytest.mark.parametrize(
    ("poisson", "k"),
    [(0.0, 0.71832), (0.2, 0.67744), (0.3, 0.65344), (0.34, 0.64300), (0.4, 0.62626)],
)
def test_the_middle_rises_with_the_cube_root_of_the_pressure(poisson: float, k: float) -> None:
    nodes, _ = pressed(15, poisson)
    middle = float(nodes[:, 2].max())
    assert middle == pytest.approx(k * (PRESSURE / STIFFNESS) ** (1.0 / 3.0), rel=2e-3)
    assert middle < 0.1


@pytest.mark.source(
    work=WORK,
    where=SOLVED + ": k = 0.65344 at Poisson's ratio 0.3",
    tolerance="order at least 1.8 over 5, 9 and 15 triangles a radius; theory: 2",
)
def test_the_middle_settles_with_the_square_of_the_triangle() -> None:
    exact = 0.65344 * (PRESSURE / STIFFNESS) ** (1.0 / 3.0)
    meshes = np.array([5, 9, 15])
    errors = [abs(pressed(quads, 0.3)[0][:, 2].max() - exact) for quads in meshes]
    assert np.min(-np.diff(np.log(errors)) / np.diff(np.log(meshes))) > 1.8


@pytest.mark.source(
    work=WORK,
    where=SOLVED + ": N = n (E t p² a²)^(1/3) in the middle, n for three values of Poisson's ratio",
    tolerance="rel 1 %: constant in each triangle, 15 a radius",
)
@pytest.mark.parametrize(("poisson", "n"), [(0.0, 0.40510), (0.3, 0.43110), (0.4, 0.44422)])
def test_the_pull_in_the_middle_is_hencky_s(poisson: float, n: float) -> None:
    _, state = pressed(15, poisson)
    faces = _disc(15)[1]
    stress = state.stress[np.any(faces == 15, axis=1)].mean(axis=0)
    pull = n * (STIFFNESS * PRESSURE**2) ** (1.0 / 3.0)
    assert stress[:2] == pytest.approx([pull, pull], rel=0.01)


@pytest.mark.source(
    work=WORK,
    where=SOLVED + ": volume / (π a² w0) = 0.5214 at Poisson's ratio 0.3",
    tolerance="rel 1 %: 15 triangles a radius",
)
def test_the_bulge_is_fuller_than_a_sphere_s_cap() -> None:
    nodes, _ = pressed(15, 0.3)
    rest, faces = _disc(15)
    corner = rest[faces]
    area = 0.5 * np.abs(np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])[:, 2])
    volume = 4.0 * float(area @ nodes[faces][:, :, 2].mean(axis=1))
    assert volume / (np.pi * nodes[:, 2].max()) == pytest.approx(0.5214, rel=0.01)
