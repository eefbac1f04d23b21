"""Strips in the stall: attached limit, agreement of circulation and incidence, uniqueness."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.lattice import FREE_AIR, Flow, Lattice, Water, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.air.stall import lift_ratios, separation
from luffwright.air.strip_geometry import own_influence, strip_geometry
from luffwright.air.strips import StripState, solve_strips
from luffwright.arrays import FloatArray


def bent_sail(rows: int, columns: int, camber: float) -> FloatArray:
    aft = np.linspace(0.0, 1.0, columns)
    grid = np.zeros((rows, columns, 3))
    grid[:, :, 0], grid[:, :, 1] = -aft, 4.0 * camber * aft * (1.0 - aft)
    grid[:, :, 2] = 0.5 + np.linspace(0.0, 3.0, rows)[:, None]
    return grid.reshape(-1, 3)


def at(
    degrees: float, camber: float = 0.1, *, stalling: bool = True, first: FloatArray | None = None
) -> Flow:
    angle = np.radians(degrees)
    along = np.array([-np.cos(angle), np.sin(angle), 0.0])
    return solve_flow(
        sail(), bent_sail(9, 8, camber), lambda points: np.tile(along, (len(points), 1)),
        Water(FREE_AIR.up), 1.2, stalling=stalling, first=first,
    )  # fmt: skip


def sail() -> Lattice:
    return lattice((sheet_mesh(9, 8),), (0.0,))


def test_attached_flow_keeps_all_of_its_lift() -> None:
    flow = at(8.0, stalling=False)
    assert np.all(flow.strip.ratio == 1.0)
    assert np.all(flow.strip.drag_area == 0.0)


@pytest.mark.parametrize("degrees", [-3.0, 4.0, 12.0, 25.0, 60.0])
def test_the_lift_ratio_is_that_of_the_incidence_found(degrees: float) -> None:
    strip = at(degrees).strip
    assert strip.ratio == pytest.approx(lift_ratios(strip.facing, strip.camber)[0], abs=1e-9)


@pytest.mark.parametrize("degrees", [4.0, 12.0, 20.0, 35.0])
def test_two_starts_end_in_the_same_flow(degrees: float) -> None:
    cold = at(degrees)
    warm = at(degrees, first=cold.strip.incidence + 0.05)
    assert warm.strip.incidence == pytest.approx(cold.strip.incidence, abs=1e-5)


def test_the_response_is_the_slope_of_the_solution() -> None:
    """Central differences over a change of wash, strips between luffing and stalled."""
    mesh, nodes = sail(), bent_sail(9, 8, 0.1)
    chordwise, spanwise = mesh.chordwise @ nodes, mesh.spanwise @ nodes
    normal = np.cross(chordwise, spanwise)
    stream = np.tile([-0.97, 0.24, 0.0], (mesh.rings, 1))
    geometry = strip_geometry(mesh.strips, nodes, stream, normal, spanwise)
    chance = np.random.default_rng(3)
    matrix = 0.005 * chance.standard_normal((mesh.rings, mesh.rings))
    for strip, block in enumerate(own_influence(mesh.strips, geometry)):
        rows = slice(7 * strip, 7 * strip + 7)
        matrix[rows, rows] += block
    wash = -np.sum(normal * stream, axis=1) * np.repeat(np.linspace(0.2, 1.5, 8), 7)
    change = 1e-5 * chance.standard_normal(mesh.rings)

    def solved(turn: float, first: FloatArray | None) -> StripState:
        return solve_strips(
            mesh.strips, geometry, matrix, wash + turn * change, stalling=True, first=first
        )

    here = solved(0.0, None)
    ahead, behind = (solved(turn, here.incidence) for turn in (1.0, -1.0))
    told = here.respond(change[:, None])
    found = 0.5 * (ahead.circulation - behind.circulation)
    assert told[:, 0] == pytest.approx(found, rel=1e-3, abs=1e-3 * np.abs(found).max())
    drag = here.respond_in_drag(change[:, None], told)[:, 0]
    found = 0.5 * (ahead.drag_area - behind.drag_area)
    assert drag == pytest.approx(found, rel=1e-3, abs=1e-3 * np.abs(found).max())


def test_a_strip_tells_where_its_flow_has_left() -> None:
    strip = at(8.0, 0.15).strip
    assert strip.separated == pytest.approx(separation(strip.facing, strip.camber))
    assert np.all(at(8.0, 0.15, stalling=False).strip.separated == 1.0)


def test_the_camber_s_load_of_an_arc_is_four_times_its_camber() -> None:
    """A1 of thin-section theory: 4 f for a parabola z = 4 f x (1 - x) (closed form)."""
    assert at(5.0, 0.03).strip.camber == pytest.approx(4.0 * 0.03, rel=0.02)


def test_lift_grows_to_the_stall_and_drag_grows_beyond_it() -> None:
    angles = np.radians([4.0, 10.0, 20.0, 50.0, 85.0])
    force = np.array([at(np.degrees(angle)).node_force.sum(axis=0) for angle in angles])
    lift = force[:, 0] * np.sin(angles) + force[:, 1] * np.cos(angles)
    drag = -force[:, 0] * np.cos(angles) + force[:, 1] * np.sin(angles)
    assert lift[0] < lift[1]
    assert lift[4] < lift[3] < lift[2] * 1.2
    assert np.all(np.diff(drag) > 0.0)


def test_a_flat_sail_lifts_the_same_on_either_side() -> None:
    assert at(9.0, 0.0).node_force[:, 1] == pytest.approx(-at(-9.0, 0.0).node_force[:, 1], abs=1e-9)


@pytest.mark.parametrize("degrees", [-40.0, 30.0, 60.0, 80.0, 90.0, 120.0, 150.0, 175.0])
@pytest.mark.parametrize("camber", [0.02, 0.15, 0.25])
def test_every_angle_settles_from_a_cold_start(degrees: float, camber: float) -> None:
    assert at(degrees, camber).strip.gap < 1e-9
