"""The air on the other tack: the same sails mirrored feel the mirrored forces.

The geometry itself is mirrored and goes through the same kernels; nothing is taken by symmetry.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from luffwright.air.lattice import Flow, Lattice, Water, lattice, load_tangent, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.arrays import FloatArray
from luffwright.frames import mirror

ROWS, COLUMNS = 6, 6
CLOSURE = (0.6, 0.3)
FLIP = np.array([1.0, -1.0, 1.0])


def sail(tack: FloatArray, clew: FloatArray, head: FloatArray, camber: float) -> FloatArray:
    """Return nodes of a triangular sail, full to leeward (port)."""
    up = np.linspace(0.0, 1.0, ROWS)[:, None, None]
    aft = np.linspace(0.0, 1.0, COLUMNS)[None, :, None]
    peak = head + np.array([-0.3, 0.2, 0.0])
    luff, leech = (1.0 - up) * tack + up * head, (1.0 - up) * clew + up * peak
    chord = np.linalg.norm(leech - luff, axis=2, keepdims=True)
    bulge = 4.0 * camber * chord * aft * (1.0 - aft) * np.array([0.0, 1.0, 0.0])
    return ((1.0 - aft) * luff + aft * leech + bulge).reshape(-1, 3)


def two_sails(camber: float) -> tuple[Lattice, FloatArray]:
    jib = sail(
        np.array([4.0, 0.0, 1.2]), np.array([0.2, 0.9, 1.6]), np.array([0.2, 0.0, 12.0]), camber
    )
    main = sail(
        np.array([-0.1, 0.0, 2.0]), np.array([-4.2, 0.3, 2.0]), np.array([-0.4, 0, 13.0]), 0.1
    )
    sheets = tuple(sheet_mesh(ROWS, COLUMNS, inset_foot=0.25 * (1 - part)) for part in CLOSURE)
    return lattice(sheets, CLOSURE), np.vstack([jib, main])


def fly(mesh: Lattice, nodes: FloatArray, wind: FloatArray, up: FloatArray, side: float) -> Flow:
    """Return the flow in a wind that grows with the height above the level water."""

    def onset(points: FloatArray) -> FloatArray:
        height = np.maximum(points @ up, 0.2)
        return np.asarray(wind * FLIP ** (side < 0) * (height / 10.0)[:, None] ** 0.1)

    return solve_flow(mesh, nodes, onset, Water(up), 1.2)


@given(angle=st.floats(0.35, 2.9), heel=st.floats(0.0, 0.5), camber=st.floats(0.02, 0.15))
def test_mirrored_sails_feel_mirrored_forces(angle: float, heel: float, camber: float) -> None:
    mesh, nodes = two_sails(camber)
    wind = 8.0 * np.array([-np.cos(angle), np.sin(angle), 0.0])
    up = np.array([0.0, -np.sin(heel), np.cos(heel)])
    here = fly(mesh, nodes, wind, up, 1.0)
    there = fly(mesh, mirror(nodes), wind, mirror(up), -1.0)
    scale = np.abs(here.node_force).max()
    assert mirror(there.node_force) == pytest.approx(here.node_force, abs=1e-6 * scale)
    assert there.strip.facing == pytest.approx(here.strip.facing, abs=1e-6)
    assert there.circulation == pytest.approx(-here.circulation, abs=1e-5)


def test_the_tangent_of_the_mirrored_sails_is_the_mirrored_tangent() -> None:
    mesh, nodes = two_sails(0.1)
    wind, up = 8.0 * np.array([-0.9, 0.43, 0.0]), np.array([0.0, -0.3, 0.954])
    here = load_tangent(mesh, fly(mesh, nodes, wind, up, 1.0))
    there = load_tangent(mesh, fly(mesh, mirror(nodes), wind, mirror(up), -1.0))
    sign = np.tile(FLIP, len(nodes))
    assert sign[:, None] * there * sign == pytest.approx(here, abs=1e-6 * np.abs(here).max())
