"""What a slot under the foot costs: induced drag of an upright sail over the water."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import ellipe, ellipkm1

from luffwright.air.lattice import FREE_AIR, Water, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.air.trefftz import trefftz_drag, wake_drag, wash_through

MUNK = "Munk, The minimum induced drag of aerofoils, NACA Report 121, 1921"
INDEPENDENT = "Independent vortex sums in plain NumPy, written without sight of this program"
SMALL = 1e-3


def least_span(gap: float) -> float:
    """Return the effective span of the best load on one metre of sail over a gap.

    Munk: the least drag is that of a wake moving as a stiff sheet. Sail and image are two plates
    in one line, from `gap` to `gap` + 1 on either side; the flow past them without circulation is
    a complete elliptic integral of the second kind over one of the first.
    """
    if gap == 0.0:
        return float(np.sqrt(2.0))
    low, high = gap, 1.0 + gap
    inner = (low / high) ** 2
    ratio = ellipe(1.0 - inner) / ellipkm1(inner)
    return float(np.sqrt(2.0 * (low**2 + high**2) - 4.0 * high**2 * ratio))


def best_span(gap: float, strips: int = 80) -> float:
    """Return the same from this program's wake: the load that drags least for its side force."""
    edge = np.linspace(gap, gap + 1.0, strips + 1)
    edge[-1] -= 0.25 / strips
    edge[0] += 0.25 / strips if gap else 0.0
    low, high = (np.stack([np.zeros(strips), part], axis=1) for part in (edge[:-1], edge[1:]))
    wash = wash_through(low, high, np.array([0.0, 1.0]))
    height = np.diff(edge)
    load = np.asarray(np.linalg.solve(wash + wash.T, -height), dtype=np.float64)
    return float(np.sqrt(2.0 * (load @ height) ** 2 / (np.pi * wake_drag(load, wash, 1.0))))


def sail(gap: float, strips: int) -> tuple[float, float]:
    """Return side force and induced drag of a flat sail 1 m high and 0.4 m wide."""
    high, aft = np.linspace(gap, gap + 1.0, strips + 1), np.linspace(0.0, 0.4, 7)
    grid = np.zeros((strips + 1, 7, 3))
    grid[:, :, 0], grid[:, :, 2] = -aft, high[:, None]
    nodes = grid.reshape(-1, 3)
    mesh = lattice((sheet_mesh(strips + 1, 7, inset_foot=0.25 if gap else 0.0),), (0.0,))
    water = Water(FREE_AIR.up)
    flow = solve_flow(
        mesh, nodes, lambda at: np.tile([-1.0, SMALL, 0.0], (len(at), 1)), water, 1.0,
        stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    return float(flow.node_force[:, 1].sum()), trefftz_drag(mesh, nodes, flow, water)


@pytest.mark.source(
    work=MUNK,
    where="least drag = wake moving as a stiff sheet; two plates in line by complete elliptic "
    "integrals (SciPy), effective span over height",
    tolerance="rel 0.5 %: 80 strips with their ends inset",
)
@pytest.mark.parametrize("gap", [0.0, 0.02, 0.05, 0.1, 0.2, 0.5])
def test_the_best_load_over_a_gap(gap: float) -> None:
    assert best_span(gap) == pytest.approx(least_span(gap), rel=0.005)


@pytest.mark.source(
    work=INDEPENDENT,
    where="least induced drag over that of the closed foot at gaps of 0.02 to 0.5 of the height",
    tolerance="abs 0.015: three printed digits and 80 strips",
)
@pytest.mark.parametrize(
    ("gap", "cost"), [(0.02, 1.54), (0.05, 1.65), (0.1, 1.74), (0.2, 1.84), (0.5, 1.93)]
)
def test_what_a_slot_costs(gap: float, cost: float) -> None:
    assert (best_span(0.0) / best_span(gap)) ** 2 == pytest.approx(cost, abs=0.015)


@pytest.mark.source(
    work=MUNK,
    where="no load drags less than the best one; two plates in line as above",
    tolerance="between 0 and 2 % above the least: a rectangular sail's load is near the best",
)
@pytest.mark.parametrize("gap", [0.0, 0.02, 0.05, 0.1, 0.2, 0.5])
def test_a_rectangular_sail_drags_a_little_more_than_the_best(gap: float) -> None:
    side, drag = sail(gap, 24)
    least = side**2 / (0.5 * np.pi * least_span(gap) ** 2)
    assert 1.0 <= drag / least < 1.02
