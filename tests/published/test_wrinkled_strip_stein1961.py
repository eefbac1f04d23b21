"""A stretched strip in bending: how far it wrinkles and what moment it then carries.

A short piece of the strip between two sections that stay plane: pulled by a force P, turned against
each other by the curvature times the length, free to contract. The one number is
s = E t h² κ / (2 P), h the strip's depth.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from luffwright.arrays import FloatArray
from luffwright.sails.assembly_kernel import assemble_cloth
from luffwright.sails.cut import triangles
from luffwright.sails.membrane import membrane, membrane_forces, orthotropic
from luffwright.sails.points import PointBuilder

ROWS = 60
STIFFNESS = 1e5
PULL = 20.0
WORK = (
    "Stein & Hedgepeth, Analysis of partly wrinkled membranes, NASA TN D-813, 1961 "
    "(formula derived again by hand; agrees with the published one from memory)"
)


def _points(length: float, turn: float) -> PointBuilder:
    """Return two columns of points, the second drawn off by the first unknown and turned."""
    build = PointBuilder()
    off = build.unknown()
    for height in np.linspace(0.0, 1.0, ROWS + 1):
        for at in (0.0, length):
            # The corner keeps the strip in its place.
            up = {} if height == at == 0.0 else {build.unknown(): 1.0}
            place = at + turn * (height - 0.5) if at else 0.0
            build.add([{off: 1.0} if at else {}, up, {}], (place, 0.0, 0.0))
    return build


@cache
def bent(number: float, poisson: float = 0.0) -> tuple[float, float]:
    """Return 2 M / (P h) and the share of the depth without pull for s = `number`, h = 1."""
    length = 1.0 / ROWS
    turn = 2.0 * PULL * number / STIFFNESS * length
    points = _points(length, turn).build()
    matrix = points.matrix()
    rest = np.zeros((ROWS + 1, 2, 3))
    rest[:, 1, 0] = length
    rest[..., 1] = np.linspace(0.0, 1.0, ROWS + 1)[:, None]
    faces = triangles(ROWS + 1, 2)
    law = orthotropic(STIFFNESS, STIFFNESS, STIFFNESS / (2.0 * (1.0 + poisson)), poisson)
    cloth = membrane(
        rest.reshape(-1, 3),
        faces,
        np.tile([1.0, 0.0, 0.0], (len(faces), 1)),
        np.broadcast_to(law, (len(faces), 3, 3)),
    )
    load = np.zeros(points.unknowns)
    load[0] = PULL
    start = rest.reshape(-1, 3).copy()
    start[1::2, 0] *= 1.0 + 2.0 * PULL / STIFFNESS * (1.0 + number)
    unknowns = points.solve_for(start)

    def terms(at: FloatArray) -> tuple[float, FloatArray, FloatArray, FloatArray]:
        places = points.constant + (matrix @ at).reshape(-1, 3)
        state = membrane_forces(cloth, places)
        force, stiffness = np.zeros(points.unknowns), np.zeros((points.unknowns,) * 2)
        assemble_cloth(
            faces, state.gradient, state.tangent,
            points.first, points.column, points.weight, force, stiffness,
        )  # fmt: skip
        return float(state.energy - load @ at), force - load, stiffness, state.stress

    now = terms(unknowns)
    for _ in range(60):
        if np.max(np.abs(now[1])) < 1e-7 * PULL:
            break
        step = np.linalg.solve(now[2], -now[1])
        share = 1.0
        new = terms(unknowns + step)
        while new[0] > now[0] + 1e-14 and share > 1e-4:
            share *= 0.5
            new = terms(unknowns + share * step)
        unknowns, now = unknowns + share * step, new
    assert np.max(np.abs(now[1])) < 1e-6 * PULL
    places = points.constant + (matrix @ unknowns).reshape(-1, 3)
    pull = np.zeros(len(places))
    np.add.at(pull, faces, membrane_forces(cloth, places).gradient[:, :, 0])
    moment = float(pull[1::2] @ (np.linspace(0.0, 1.0, ROWS + 1) - 0.5))
    # Uniaxial pull stands on the border of the taut: what counts is where the pull ends.
    return 2.0 * moment / PULL, float(np.mean(now[3][:, 0] < 0.01 * PULL))


TABLE = [
    (0.5, 0.1667, 0.0),
    (1.0, 0.3333, 0.0),
    (1.5, 0.4557, 0.1835),
    (2.0, 0.5286, 0.2929),
    (3.0, 0.6151, 0.4226),
    (5.0, 0.7019, 0.5528),
    (10.0, 0.7892, 0.6838),
]


@pytest.mark.source(
    work=WORK,
    where="2M/(Ph) = s/3 up to s = 1, 1 - (2/3)/√s beyond",
    tolerance="rel 0.4 %: 60 triangles over the depth; strains of 1e-4 to 1e-3",
)
@pytest.mark.parametrize(("number", "moment", "depth"), TABLE)
def test_the_moment_of_a_strip_grows_more_slowly_once_it_wrinkles(
    number: float, moment: float, depth: float
) -> None:
    assert bent(number)[0] == pytest.approx(moment, rel=0.004)


@pytest.mark.source(
    work=WORK,
    where="wrinkled depth b/h = 1 - 1/√s",
    tolerance="± 0.012 of the depth: a row of triangles is 0.017",
)
@pytest.mark.parametrize(("number", "moment", "depth"), TABLE)
def test_the_wrinkles_reach_as_deep_as_the_closed_form_says(
    number: float, moment: float, depth: float
) -> None:
    assert bent(number)[1] == pytest.approx(depth, abs=0.012)


@pytest.mark.source(
    work=WORK,
    where="the same; a pull along the strip alone does not know Poisson's ratio",
    tolerance="moment rel 0.4 %, wrinkled depth ± 0.012",
)
def test_wrinkled_cloth_contracts_freely() -> None:
    moment, depth = bent(3.0, 0.3)
    assert moment == pytest.approx(0.6151, rel=0.004)
    assert depth == pytest.approx(0.4226, abs=0.012)
