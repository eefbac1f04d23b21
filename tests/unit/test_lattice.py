"""The lattice's parts: filaments, mirror, tangent of the loads."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.lattice import (
    FREE_AIR,
    Flow,
    Lattice,
    Water,
    corners,
    lattice,
    load_tangent,
    solve_flow,
)
from luffwright.air.lattice_kernel import lattice_influence
from luffwright.air.lattice_mesh import lagrange_rows, sheet_mesh
from luffwright.arrays import FloatArray

NO_INTS = np.zeros(0, dtype=np.int64)
NO_ENDS = np.zeros((0, 3))


def velocity(
    point: list[float], start: list[float], end: list[float], *, mirrored: bool = False
) -> FloatArray:
    """Return the kernel's velocity at a point by one vortex of unit strength."""
    out = lattice_influence(
        np.array([point]), np.zeros(1, dtype=np.int64), np.array([start]), np.array([end]),
        np.zeros(1, dtype=np.int64), np.array([[0, -1]]), np.array([[1.0, 0.0]]),
        NO_ENDS, NO_ENDS, NO_INTS, np.zeros((0, 2), dtype=np.int64), np.zeros((0, 2)),
        np.array([0.0, 0.0, 1.0]), mirrored, 0.0, 0.0, 1,
    )  # fmt: skip
    return np.asarray(out[0, 0])


def flat_sail(rows: int = 5, columns: int = 5, foot: float = 0.5) -> FloatArray:
    grid = np.zeros((rows, columns, 3))
    grid[:, :, 0] = -np.linspace(0.0, 1.0, columns)
    grid[:, :, 1] = 0.2 * np.linspace(0.0, 1.0, columns) * (1.0 - np.linspace(0.0, 1.0, columns))
    grid[:, :, 2] = foot + np.linspace(0.0, 3.0, rows)[:, None]
    return grid.reshape(-1, 3)


def onset(points: FloatArray) -> FloatArray:
    return np.tile([-5.0, 1.0, 0.0], (len(points), 1))


def test_a_straight_vortex_follows_biot_and_savart() -> None:
    """Between the ends, at distance h: (cos a + cos b) / (4 pi h), from any textbook."""
    found = velocity([0.5, 0.0, 0.0], [0.0, 0.0, -1.0], [0.0, 0.0, 1.0])
    cosine = 1.0 / np.hypot(1.0, 0.5)
    assert found == pytest.approx([0.0, 2.0 * cosine / (4.0 * np.pi * 0.5), 0.0])


def test_no_air_crosses_the_mirror() -> None:
    found = velocity([0.7, 0.3, 0.0], [0.0, 0.2, 0.5], [0.4, -0.3, 1.5], mirrored=True)
    assert found[2] == pytest.approx(0.0, abs=1e-15)
    assert abs(found[0]) > 1e-3


def test_interpolation_and_slope_are_exact_for_cubics() -> None:
    nodes, at = np.arange(7.0), np.array([0.25, 2.75, 5.75])
    cubic, slope = nodes**3 - 2.0 * nodes, 3.0 * at**2 - 2.0
    assert lagrange_rows(7, at) @ cubic == pytest.approx(at**3 - 2.0 * at)
    assert lagrange_rows(7, at, slope=True) @ cubic == pytest.approx(slope)


def test_no_air_goes_through_the_sail() -> None:
    mesh = lattice((sheet_mesh(5, 5),), (0.0,))
    flow = solve_flow(mesh, flat_sail(), onset, Water(FREE_AIR.up), 1.2, stalling=False)
    normal = np.cross(flow.chordwise, flow.spanwise)
    assert np.sum(normal * flow.control_velocity, axis=1) == pytest.approx(0.0, abs=1e-12)


def test_a_closed_foot_stands_on_the_water() -> None:
    mesh = lattice((sheet_mesh(5, 5, inset_foot=0.0),), (1.0,))
    up = np.array([0.0, -np.sin(0.3), np.cos(0.3)])
    feet = corners(mesh, flat_sail(), Water(up))[mesh.corner.shape[0] :]
    assert feet @ up == pytest.approx(0.0, abs=1e-12)


def test_a_deck_under_the_foot_saves_more_the_smaller_the_slot() -> None:
    """Side force grows from an open foot to a closed one: half a wing of twice the span."""
    side = []
    for close in (0.0, 0.5, 1.0):
        mesh = lattice((sheet_mesh(9, 5, inset_foot=0.25 * (1.0 - close)),), (close,))
        flow = solve_flow(mesh, flat_sail(9, 5, 0.3), onset, Water(FREE_AIR.up), 1.2)
        side.append(flow.node_force[:, 1].sum())
    assert side[0] < side[1] < side[2]


def held_influence(mesh: Lattice, flow: Flow, step: FloatArray) -> FloatArray:
    """Return the change of the nodes' loads for a step, by the tangent."""
    return np.asarray(load_tangent(mesh, flow) @ step.ravel()).reshape(-1, 3)


def test_the_tangent_foretells_the_change_of_load_when_the_sail_turns() -> None:
    """A sideways bend of an attached sail; what is left out is a few per cent of the change."""
    mesh, nodes = lattice((sheet_mesh(7, 7),), (0.0,)), flat_sail(7, 7)
    bend = np.zeros_like(nodes)
    bend[:, 1] = -nodes[:, 0] * (1.0 + nodes[:, 0]) * 1e-4
    water = Water(FREE_AIR.up)
    flow = solve_flow(mesh, nodes, onset, water, 1.2)
    ahead = solve_flow(mesh, nodes + bend, onset, water, 1.2, first=flow.strip.incidence)
    behind = solve_flow(mesh, nodes - bend, onset, water, 1.2, first=flow.strip.incidence)
    found = 0.5 * (ahead.node_force - behind.node_force)
    told = held_influence(mesh, flow, bend)
    assert np.linalg.norm(told - found) < 0.1 * np.linalg.norm(found)
    assert told[:, 1].sum() == pytest.approx(found[:, 1].sum(), rel=0.05)
