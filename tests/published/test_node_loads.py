"""What the nodes of a section feel of the air, against the pressure of thin-section theory.

The pressure is weighed with the hat of each node: what a piece of cloth between two nodes carries
to them. A section is a strip of sail 10 000 chords long.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from scipy.integrate import quad

from luffwright.air.lattice import FREE_AIR, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.air.shares import LEECH, LUFF, lumps
from luffwright.arrays import FloatArray

HALF_SPAN = 5e3
GLAUERT = "Glauert, The Elements of Aerofoil and Airscrew Theory, 1926, ch. VII (thin aerofoils)"


def loads(panels: int, incidence: float, camber: float) -> FloatArray:
    """Return the force on each node across the chord, for a chord, a wind and a density of one."""
    aft = np.linspace(0.0, 1.0, panels + 1)
    row = np.stack([-aft, 4.0 * camber * aft * (1.0 - aft), np.zeros_like(aft)], axis=1)
    nodes = np.vstack([row + np.array([0.0, 0.0, end]) for end in (-HALF_SPAN, HALF_SPAN)])
    mesh = lattice((sheet_mesh(2, panels + 1, inset_foot=0.0, inset_head=0.0),), (0.0,))
    wind = np.array([-np.cos(incidence), np.sin(incidence), 0.0])
    flow = solve_flow(
        mesh, nodes, lambda at: np.tile(wind, (len(at), 1)), FREE_AIR, 1.0,
        stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    return np.asarray(flow.node_force[:, 1].reshape(2, -1).sum(axis=0) / (2.0 * HALF_SPAN))


def weighed(panels: int, strength: Callable[[float], float]) -> FloatArray:
    """Return a vortex sheet of the strength given at θ, x = (1 - cos θ) / 2, weighed with hats."""
    edges = np.arccos(np.clip(1.0 - 2.0 * np.arange(-1, panels + 2) / panels, -1.0, 1.0))

    def hat(angle: float, node: int) -> float:
        x = 0.5 * (1.0 - np.cos(angle))
        return float(max(0.0, 1.0 - abs(panels * x - node)) * strength(angle) * np.sin(angle) / 2)

    return np.array([
        sum(quad(hat, edges[j + k], edges[j + k + 1], args=(j,))[0] for k in (0, 1))
        for j in range(panels + 1)
    ])  # fmt: skip


@pytest.mark.source(
    work=GLAUERT,
    where="flat plate: strength of the sheet 2 α (1 + cos θ) / sin θ",
    tolerance="every node within 0.2 % of the whole; with the four nodes of a smooth curve: 15 %",
)
@pytest.mark.parametrize("panels", [7, 14])
def test_nodes_of_a_flat_plate_feel_the_pressure_of_theory(panels: int) -> None:
    small = 1e-3
    exact = weighed(panels, lambda it: 2.0 * (1.0 + np.cos(it)) / max(np.sin(it), 1e-12))
    apart = loads(panels, small, 0.0) / small - exact
    assert np.max(np.abs(apart)) < 0.002 * np.pi


@pytest.mark.source(
    work=GLAUERT,
    where="parabolic arc of camber f, wind along its chord: strength 8 f sin θ",
    tolerance="every node within 1 % of the whole with 7 panels, 0.5 % with 14",
)
@pytest.mark.parametrize("panels", [7, 14])
def test_nodes_of_an_arc_feel_the_pressure_of_theory(panels: int) -> None:
    camber = 1e-4
    exact = weighed(panels, lambda it: 8.0 * np.sin(it))
    apart = loads(panels, 0.0, camber) / camber - exact
    assert np.max(np.abs(apart)) < 0.07 / panels * 2.0 * np.pi


@pytest.mark.source(
    work="James, On the remarkable accuracy of the vortex lattice method, Computer Methods in "
    "Applied Mechanics and Engineering 1, 1972 (from memory)",
    where="vortices at quarters, none let through at three quarters: closed form at an edge",
    tolerance="0.01 of a vortex sheet whose first vortices are 0.9 and 1.8",
)
@pytest.mark.parametrize("power", [LUFF, LEECH])
def test_vortices_of_an_endless_chord_let_nothing_through(power: float) -> None:
    """Half a panel beside each of them the sum of all has to vanish."""
    count = 200_000
    vortex = lumps(power, count)
    at = np.arange(count) + (0.25 if power == LUFF else 0.75)
    seen = at[:6] + (0.5 if power == LUFF else -0.5)
    wash = np.array([np.sum(vortex / (at - it)) for it in seen])
    # What the row lets through where it is cut off, as the integral of the power from there on.
    far = np.sqrt(count)
    beyond = 2.0 / far if power == LUFF else 2.0 * (seen / far - far)
    assert np.max(np.abs(wash + beyond)) < 0.01
