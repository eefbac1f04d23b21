"""Ropes, cloth and contact put together: forces are the slope of the energy, and they balance."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from luffwright.arrays import FloatArray
from luffwright.sails.assembly_kernel import assemble_cloth, assemble_contact, assemble_ropes
from luffwright.sails.cut import triangles
from luffwright.sails.membrane import membrane, membrane_forces, orthotropic
from luffwright.sails.points import PointBuilder, Points

near = st.floats(-0.3, 0.3)
shifts = st.lists(near, min_size=12, max_size=12).map(np.array)


def four_points(*, tied: bool) -> Points:
    """Return four points in a row a metre apart; `tied`, the third leans on the others."""
    build = PointBuilder()
    for place in range(4):
        first = build.unknown(3)
        rows = [{first + axis: 1.0} for axis in range(3)]
        if tied and place == 2:
            rows = [{axis: 0.5, 3 + axis: 0.25, first + axis: 0.25} for axis in range(3)]
        build.add(rows, (float(place), 0.0, 0.0))
    return build.build()


def rope(
    points: Points, unknowns: FloatArray, length: float, knot: float = 0.0
) -> tuple[float, FloatArray, FloatArray]:
    """Return energy, force and stiffness of a rope through the four points."""
    places = points.constant + (points.matrix() @ unknowns).reshape(-1, 3)
    force, stiffness = np.zeros(12), np.zeros((12, 12))
    stretch, pull = np.zeros(1), np.zeros(1)
    energy = assemble_ropes(
        places, np.array([0, 4]), np.arange(4), np.array([length]), np.array([knot]),
        np.array([1e4]), np.zeros(1, dtype=np.int64), stretch, False, 1.0,
        points.first, points.column, points.weight, force, stiffness, pull, stretch,
    )  # fmt: skip
    return energy, force, stiffness


@given(shifts, st.booleans(), st.integers(0, 11), st.floats(1.0, 4.5), st.floats(0.0, 0.1))
def test_a_rope_s_forces_are_the_slope_of_its_energy(
    shift: FloatArray, tied: bool, which: int, length: float, knot: float
) -> None:
    points = four_points(tied=tied)
    step = 1e-6 * np.eye(12)[which]
    ahead, back = (rope(points, shift + sign * step, length, knot)[0] for sign in (1.0, -1.0))
    force = rope(points, shift, length, knot)[1][which]
    # Two points on one place have no direction; where a rope comes taut the stiffness jumps.
    assert force == pytest.approx((ahead - back) / 2e-6, rel=1e-4, abs=0.05)


@given(shifts, st.booleans(), st.integers(0, 11), st.floats(0.0, 0.1))
def test_a_taut_rope_s_stiffness_is_the_slope_of_its_forces(
    shift: FloatArray, tied: bool, which: int, knot: float
) -> None:
    points = four_points(tied=tied)
    step = 1e-6 * np.eye(12)[which]
    ahead, back = (rope(points, shift + sign * step, 1.0, knot)[1] for sign in (1.0, -1.0))
    energy, _, stiffness = rope(points, shift, 1.0, knot)
    assume(energy > 1.0)
    assert np.allclose(stiffness[:, which], (ahead - back) / 2e-6, rtol=1e-4, atol=1.0)


@pytest.mark.parametrize("share", [0.2, 0.6, 0.95])
def test_a_ring_hauled_to_its_block_rests_where_the_knot_leans_as_it_is_pulled(
    share: float,
) -> None:
    """A ring pulled across by F rests at d of its block where F = T d / sqrt(d^2 + k^2)."""
    knot, tension, stiff = 0.03, 1000.0, 1e4
    build = PointBuilder()
    first = build.unknown(3)
    build.fixed((0.0, -2.0, 0.0))
    build.fixed((0.0, 0.0, 0.0))
    build.add([{first + axis: 1.0} for axis in range(3)], (0.0, 0.0, 0.0))
    points = build.build()
    away = np.array([0.01, 0.0, 0.0])
    load = np.array([share * tension, 0.0, 0.0])
    # So long that the pull is the tension where the ring rests.
    rest = knot * share / np.sqrt(1.0 - share**2)
    length = np.hypot(2.0, knot) + np.hypot(rest, knot) - tension / stiff
    for _ in range(40):
        force, stiffness = np.zeros(3), np.zeros((3, 3))
        stretch, pull = np.zeros(1), np.zeros(1)
        assemble_ropes(
            points.constant + (points.matrix() @ away).reshape(-1, 3), np.array([0, 3]),
            np.arange(3), np.array([length]), np.array([knot]), np.array([stiff]),
            np.zeros(1, dtype=np.int64), stretch, False, 1.0,
            points.first, points.column, points.weight, force, stiffness, pull, stretch,
        )  # fmt: skip
        step = np.linalg.solve(stiffness, load - force)
        away = away + step * min(1.0, knot / max(float(np.linalg.norm(step)), 1e-12))
    assert away == pytest.approx([rest, 0.0, 0.0], abs=1e-9)
    assert pull[0] == pytest.approx(tension)


@given(shifts)
def test_a_rope_pulls_its_points_together_without_pulling_the_boat(shift: FloatArray) -> None:
    force = rope(four_points(tied=False), shift, 1.0)[1].reshape(4, 3)
    places = shift.reshape(4, 3) + np.arange(4.0)[:, None] * [1.0, 0.0, 0.0]
    assert np.allclose(force.sum(axis=0), 0.0, atol=1e-7)
    assert np.allclose(np.cross(places, force).sum(axis=0), 0.0, atol=1e-6)


@given(shifts, st.integers(0, 11))
def test_cloth_put_together_keeps_the_slope_of_its_energy(shift: FloatArray, which: int) -> None:
    build = PointBuilder()
    for place in ((0, 0), (1, 0), (0, 1), (1, 1)):
        first = build.unknown(3)
        build.add([{first + axis: 1.0} for axis in range(3)], (*map(float, place), 0.0))
    points, faces = build.build(), triangles(2, 2)
    law = np.tile(orthotropic(1e4, 2e4, 3e3, 0.2), (2, 1, 1))
    cloth = membrane(points.constant, faces, np.tile([1.0, 0.0, 0.0], (2, 1)), law)

    def at(unknowns: FloatArray) -> tuple[float, FloatArray]:
        places = points.constant + (points.matrix() @ unknowns).reshape(-1, 3)
        state = membrane_forces(cloth, places)
        force = np.zeros(12)
        assemble_cloth(
            faces, state.gradient, state.tangent,
            points.first, points.column, points.weight, force, np.zeros((12, 12)),
        )  # fmt: skip
        return state.energy, force

    step = 1e-6 * np.eye(12)[which]
    slope = (at(shift + step)[0] - at(shift - step)[0]) / 2e-6
    assert at(shift)[1][which] == pytest.approx(slope, rel=1e-3, abs=0.1)


@given(st.floats(0.05, 0.95), st.floats(0.05, 0.95), st.floats(-0.2, 0.2))
def test_contact_pushes_the_sail_and_what_it_touches_apart_alike(
    aft: float, up: float, inside: float
) -> None:
    # A square of sail in the plane of the boat, and a spreader's tip 'inside' to leeward of it.
    build = PointBuilder()
    for x, z in ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)):
        build.add([{}, {build.unknown(): 1.0}, {}], (x, 0.0, z))
    build.add([{}, {build.unknown(): 1.0}, {}], (aft, inside, up))
    points = build.build()
    force, stiffness, press = np.zeros(5), np.zeros((5, 5)), np.zeros(1)
    assemble_contact(
        points.constant, 0, 2, 2, np.array([4]), 1000.0,
        points.first, points.column, points.weight, force, stiffness, press,
    )  # fmt: skip
    push = 1000.0 * max(inside, 0.0)
    assert press[0] == pytest.approx(push, abs=1e-9)
    weights = np.array([(1 - aft) * (1 - up), aft * (1 - up), (1 - aft) * up, aft * up])
    assert force[:4] == pytest.approx(-push * weights, abs=1e-6)
    assert force.sum() == pytest.approx(0.0, abs=1e-9)
    assert np.linalg.eigvalsh(stiffness)[0] >= -1e-9
