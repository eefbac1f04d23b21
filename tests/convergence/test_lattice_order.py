"""How fast the lattice closes in on its limit, against the order that theory promises."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from luffwright.air.lattice import FREE_AIR, Water, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.arrays import FloatArray

SMALL = 1e-3


def lift(
    half_span: float, strips: int, panels: int, incidence: float,
    camber: Callable[[FloatArray], FloatArray] | None = None, inset: float = 0.25,
) -> float:  # fmt: skip
    """Return the lift coefficient of a rectangular wing of chord one."""
    aft, out = np.linspace(0.0, 1.0, panels + 1), np.linspace(-half_span, half_span, strips + 1)
    grid = np.zeros((strips + 1, panels + 1, 3))
    grid[:, :, 0], grid[:, :, 2] = -aft, out[:, None]
    grid[:, :, 1] = 0.0 if camber is None else camber(aft)
    mesh = lattice(
        (sheet_mesh(strips + 1, panels + 1, inset_foot=inset, inset_head=inset),), (0.0,)
    )
    along = np.array([-np.cos(incidence), np.sin(incidence), 0.0])
    flow = solve_flow(
        mesh, grid.reshape(-1, 3), lambda at: np.tile(along, (len(at), 1)), FREE_AIR, 1.0,
        stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    return float(flow.node_force[:, 1].sum() / half_span)


def half_closed(strips: int, close: float) -> float:
    """Return the lift of an upright triangle over the water, its foot closed by a share [N]."""
    aft, up = np.linspace(0.0, 1.0, 8), np.linspace(0.0, 1.0, strips + 1)
    chord = 4.0 * (1.0 - 0.9 * up)
    grid = np.zeros((strips + 1, 8, 3))
    grid[:, :, 0], grid[:, :, 2] = -aft * chord[:, None], 1.4 + 12.0 * up[:, None]
    grid[:, :, 1] = SMALL * aft * chord[:, None]
    mesh = lattice((sheet_mesh(strips + 1, 8, inset_foot=0.25 * (1.0 - close)),), (close,))
    flow = solve_flow(
        mesh, grid.reshape(-1, 3), lambda at: np.tile([-1.0, 0.0, 0.0], (len(at), 1)),
        Water(np.array([0.0, 0.0, 1.0])), 1.0, stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    return float(flow.node_force[:, 1].sum())


def observed_order(values: list[float]) -> float:
    """Return the order seen in three values on meshes that halve each time."""
    coarse, middle, fine = values
    return float(np.log2(abs((middle - coarse) / (fine - middle))))


def test_more_panels_along_the_chord_change_the_slope_at_second_order() -> None:
    """James, On the remarkable accuracy of the vortex lattice method, 1972 (from memory)."""
    values = [lift(2.0, 12, panels, SMALL) for panels in (2, 4, 8)]
    assert observed_order(values) > 1.8


def test_more_strips_change_the_slope_at_second_order() -> None:
    """Hough, Remarks on vortex-lattice methods, 1973: with inset tips (from memory)."""
    values = [lift(2.0, strips, 4, SMALL) for strips in (8, 16, 32)]
    assert observed_order(values) > 1.6


@pytest.mark.parametrize("close", [0.5, 0.8, 0.95])
def test_a_foot_closed_by_a_share_has_a_limit(close: float) -> None:
    """Of first order in the end, as of any edge that a vortex leaves: 0.67 to 0.72 at 72 strips. A
    share of the lowest strip alone moved off as far with each halving: 0.14, -0.15, -0.58.
    """
    values = [half_closed(strips, close) for strips in (9, 18, 36, 72)]
    assert observed_order(values[1:]) > 0.5
    assert values[0] == pytest.approx(2.0 * values[3] - values[2], rel=0.025)


def test_without_the_inset_strips_converge_at_first_order_only() -> None:
    """The same source: this is what the inset is for."""
    values = [lift(2.0, strips, 4, SMALL, inset=0.0) for strips in (8, 16, 32)]
    assert 0.7 < observed_order(values) < 1.3


@pytest.mark.parametrize("panels", [4, 8, 16])
def test_a_parabolic_arc_is_exact_at_every_number_of_panels(panels: int) -> None:
    """Thin-section theory, 4 pi f: facets would lose 4 pi f / n of it."""
    rise = 1e-3
    found = lift(5e3, 1, panels, 0.0, lambda x: 4.0 * rise * x * (1.0 - x), inset=0.0)
    assert found == pytest.approx(4.0 * np.pi * rise, rel=1e-3)


def test_a_wavy_section_converges_at_second_order_or_better() -> None:
    """Sine camber: C_L = 2 pi (A0 + A1 / 2) by quadrature of Glauert's integrals."""
    rise = 1e-3
    angle = (np.arange(4000) + 0.5) * np.pi / 4000
    slope = rise * np.pi * np.cos(np.pi * 0.5 * (1.0 - np.cos(angle)))
    exact = 2.0 * np.pi * float(np.mean(slope * (np.cos(angle) - 1.0)))
    wrong = [
        abs(lift(5e3, 1, panels, 0.0, lambda x: rise * np.sin(np.pi * x), inset=0.0) - exact)
        for panels in (5, 10, 20)
    ]
    # The span of 10 000 chords alone leaves 2e-4 of the lift.
    assert wrong[0] < 0.02 * exact
    assert wrong[2] < max(wrong[1] / 3.0, 4e-4 * exact)
