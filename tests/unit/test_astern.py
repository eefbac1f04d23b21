"""Wind from behind the leech: a plate's push, at every angle, without a jump."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.astern import from_leech, plate_load, plate_load_slopes
from luffwright.air.lattice import FREE_AIR, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.arrays import FloatArray

UP = np.array([[0.0, 0.0, 1.0]])


def chord_at(degrees: float) -> FloatArray:
    """Return a chord of 2 m that wind along x meets at an angle, from the luff."""
    angle = np.radians(degrees)
    return 2.0 * np.array([[np.cos(angle), -np.sin(angle), 0.0]])


WIND = np.array([[5.0, 0.0, 0.0]])


@pytest.mark.parametrize("degrees", [95.0, 120.0, 150.0, 175.0, 185.0, 210.0, 250.0])
def test_the_push_is_square_to_the_cloth_and_downwind(degrees: float) -> None:
    chord = chord_at(degrees)
    force = plate_load(chord, UP, WIND)[0]
    skin = 0.5 * 25.0 * 0.01
    assert abs(force @ chord[0]) / 2.0 <= skin
    assert force @ WIND[0] > 0.0


def test_wind_straight_from_the_leech_pushes_to_neither_side() -> None:
    assert plate_load(chord_at(180.0), UP, WIND)[0, 1] == pytest.approx(0.0, abs=1e-4)


def test_wind_from_the_luff_is_left_to_the_circulation() -> None:
    assert from_leech(np.array([0.4, 1.0])).tolist() == [0.0, 0.0]


@pytest.mark.parametrize("degrees", [75.0, 100.0, 160.0, 200.0])
def test_the_slopes_are_those_of_the_load(degrees: float) -> None:
    chord, turn = chord_at(degrees), 1e-4 * np.array([[0.3, 0.8, 0.2]])
    ahead, behind = plate_load(chord + turn, UP, WIND), plate_load(chord - turn, UP, WIND)
    told = plate_load_slopes(chord, UP, WIND)[0] @ turn[0]
    assert told == pytest.approx((ahead - behind)[0] / 2.0, rel=1e-3, abs=1e-7)


def sail_force(degrees: float) -> FloatArray:
    """Return the force on a slightly bellied sail of 2 by 6 m in wind at an angle to its chord."""
    rows, columns = 7, 6
    x, z = np.meshgrid(np.linspace(0.0, 2.0, columns), np.linspace(0.0, 6.0, rows))
    nodes = np.stack([x, 0.15 * x * (2.0 - x), z], axis=-1).reshape(-1, 3)
    angle = np.radians(degrees)
    wind = 6.0 * np.array([np.cos(angle), np.sin(angle), 0.0])
    mesh = lattice((sheet_mesh(rows, columns),), (0.0,))
    flow = solve_flow(mesh, nodes, lambda at: np.tile(wind, (len(at), 1)), FREE_AIR, 1.225)
    assert flow.strip.gap < 1e-6
    return np.asarray(flow.node_force.sum(axis=0))


def test_the_force_turns_with_the_wind_all_the_way_round_without_a_jump() -> None:
    angles = np.arange(20.0, 181.0, 2.5)
    push = np.array([sail_force(angle) for angle in angles])
    across = push[:, 1]
    steps = np.abs(np.diff(across))
    assert steps.max() < 0.12 * np.abs(across).max()
    # Wind that blows on one side pushes to the other.
    assert (across[angles <= 170.0] > 0.0).all()
