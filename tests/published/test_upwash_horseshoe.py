"""Velocities off a lifting sheet against the horseshoe vortex's closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from luffwright.air.lattice import FREE_AIR, Flow, Lattice, Water, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.air.upwash import induced_velocity
from luffwright.arrays import FloatArray

SPAN, CHORD = 8.0, 0.02
FORM = pytest.mark.source(
    work="Biot-Savart law; horseshoe as in Milne-Thomson, Theoretical Aerodynamics (from memory)",
    where="straight bound vortex with two straight legs to infinity, exact",
    tolerance="rel 2 %: a sheet 1/400 of its span wide, whose wake leaves it at 5 degrees",
)


def narrow() -> tuple[Lattice, FloatArray, Flow, FloatArray]:
    """Return a sheet of one panel in an even stream along -x: a horseshoe, and its tips' heights.

    The sheet stands along z, its luff ahead; the stream comes 5 degrees from starboard.
    """
    mesh = lattice((sheet_mesh(2, 2, inset_foot=0.0),), (0.0,))
    nodes = np.array([[-x, 0.0, z] for z in (0.0, SPAN) for x in (0.0, CHORD)])
    aim = math.radians(5.0)

    def onset(points: FloatArray) -> FloatArray:
        return np.tile([-10.0 * math.cos(aim), 10.0 * math.sin(aim), 0.0], (len(points), 1))

    flow = solve_flow(mesh, nodes, onset, FREE_AIR, 1.225, stalling=False)
    ends = np.concatenate([flow.leg_start[:, 2], flow.leg_end[:, 2]])
    return mesh, nodes, flow, np.array([ends.min(), ends.max()])


def aside(points: FloatArray) -> tuple[FloatArray, float, FloatArray]:
    """Return velocities to leeward [m/s] at points, the circulation [m²/s] and the tips [m]."""
    mesh, nodes, flow, tips = narrow()
    along = induced_velocity(mesh, flow, nodes, FREE_AIR, points)
    return along[:, 1], abs(float(flow.circulation[-1])), tips


@FORM
@pytest.mark.parametrize("ahead", [1.0, 3.0, 9.0])
def test_ahead_of_the_middle_the_upwash_is_the_horseshoes(ahead: float) -> None:
    r"""W = Γ / (2 π s) (√(x² + s²) / x - 1), towards the side that the lift points to."""
    _, _, tips = aside(np.zeros((1, 3)) + 50.0)
    half, middle = 0.5 * (tips[1] - tips[0]), float(tips.mean())
    found, strength, _ = aside(np.array([[ahead, 0.0, middle]]))
    # The wake leaves 5 degrees to leeward: the closed form's legs lie in the sheet's plane.
    form = strength / (2.0 * math.pi * half) * (math.hypot(ahead, half) / ahead - 1.0)
    assert found[0] == pytest.approx(form, rel=0.02)


@FORM
@pytest.mark.parametrize("above", [0.7, 2.0, 5.0])
def test_above_the_tip_the_upwash_is_that_of_two_half_vortices(above: float) -> None:
    r"""W = Γ / (4 π) (1 / a - 1 / (a + b))."""
    _, _, tips = aside(np.zeros((1, 3)) + 50.0)
    found, strength, _ = aside(np.array([[-0.25 * CHORD, 0.0, tips[1] + above]]))
    span = float(tips[1] - tips[0])
    form = strength / (4.0 * math.pi) * (1.0 / above - 1.0 / (above + span))
    assert found[0] == pytest.approx(form, rel=0.02)


@FORM
def test_the_mirror_in_the_water_is_a_second_sheet_below_it() -> None:
    mesh, nodes, flow, _ = narrow()
    water = Water(np.array([0.0, 0.0, 1.0]))
    points = np.array([[2.0, 0.3, 3.0], [1.0, -0.4, 9.0]])
    below = points * np.array([1.0, 1.0, -1.0])
    flip = np.array([1.0, 1.0, -1.0])
    alone = [induced_velocity(mesh, flow, nodes, FREE_AIR, there) for there in (points, below)]
    both = induced_velocity(mesh, flow, nodes, water, points)
    assert both == pytest.approx(alone[0] + flip * alone[1], rel=1e-9)
