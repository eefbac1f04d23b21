"""Cambered sections in two dimensions: lift, moment and incidence parameter of thin-section theory.

A section is a strip of sail 10 000 chords long.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from scipy.integrate import quad

from luffwright.air.lattice import FREE_AIR, Flow, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.arrays import FloatArray

HALF_SPAN = 5e3
ABBOTT = "Abbott and von Doenhoff, Theory of Wing Sections, Dover, 1959"
KROO = "Kroo, Applied Aerodynamics, thin-airfoil theory"


def section(aft: FloatArray, bulge: FloatArray, incidence: float) -> tuple[Flow, FloatArray]:
    """Return the attached flow about a section, given from luff to leech, and its nodes."""
    row = np.stack([-aft, bulge, np.zeros_like(aft)], axis=1)
    nodes = np.vstack([row + np.array([0.0, 0.0, end]) for end in (-HALF_SPAN, HALF_SPAN)])
    mesh = lattice((sheet_mesh(2, len(aft), inset_foot=0.0, inset_head=0.0),), (0.0,))
    along = np.array([-np.cos(incidence), np.sin(incidence), 0.0])
    flow = solve_flow(
        mesh, nodes, lambda at: np.tile(along, (len(at), 1)), FREE_AIR, 1.0,
        stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    return flow, nodes


def quarter_moment(flow: Flow, nodes: FloatArray) -> float:
    """Return the moment coefficient about 1/4 chord, nose up, of a chord of one."""
    force = flow.node_force / (2.0 * HALF_SPAN)
    return 2.0 * float(np.sum(force[:, 1] * (nodes[:, 0] + 0.25) - force[:, 0] * nodes[:, 1]))


def circular_arc(camber: float, panels: int) -> tuple[FloatArray, FloatArray]:
    """Return points of a circular arc over a chord of one."""
    radius = (0.25 + camber**2) / (2.0 * camber)
    half = np.arcsin(0.5 / radius)
    turn = np.linspace(-half, half, panels + 1)
    return 0.5 + radius * np.sin(turn), radius * (np.cos(turn) - np.cos(half))


def mean_line(draft: float, camber: float) -> Callable[[FloatArray], FloatArray]:
    """Return the four-digit mean line: two parabolas that meet at the draft."""

    def height(x: FloatArray) -> FloatArray:
        front = camber / draft**2 * (2.0 * draft * x - x**2)
        back = camber / (1.0 - draft) ** 2 * (1.0 - 2.0 * draft + 2.0 * draft * x - x**2)
        return np.where(x < draft, front, back)

    return height


def theory(draft: float, camber: float) -> tuple[float, float, float]:
    """Return zero-lift angle, ideal angle [rad] and quarter-chord moment by Glauert's integrals."""

    def slope(angle: float) -> float:
        x = 0.5 * (1.0 - np.cos(angle))
        part = draft if x < draft else 1.0 - draft
        return float(2.0 * camber / part**2 * (draft - x))

    knee = float(np.arccos(1.0 - 2.0 * draft))

    def weighted(weight: Callable[[float], float]) -> float:
        parts = ((0.0, knee), (knee, np.pi))
        whole = sum(quad(lambda t: slope(t) * weight(t), low, high)[0] for low, high in parts)
        return whole / np.pi

    first = 2.0 * weighted(np.cos)
    second = 2.0 * weighted(lambda t: np.cos(2.0 * t))
    ideal = weighted(lambda _: 1.0)
    return ideal - 0.5 * first, ideal, 0.25 * np.pi * (second - first)


@pytest.mark.source(
    work="Kutta, Auftriebskraefte in stroemenden Fluessigkeiten, 1902",
    where="thin circular arc: C_L = 2 pi (sin a + 2 f cos a) with camber f (closed form)",
    tolerance="rel 0.2 %: 7 panels, the panels of a sail",
)
@pytest.mark.parametrize("camber", [0.05, 0.10, 0.15])
@pytest.mark.parametrize("incidence", [0.0, 0.1, 0.2])
def test_lift_of_the_circular_arc(camber: float, incidence: float) -> None:
    flow, _ = section(*circular_arc(camber, 7), incidence)
    exact = 2 * np.pi * (np.sin(incidence) + 2 * camber * np.cos(incidence))
    assert 2 * flow.circulation[-1] == pytest.approx(exact, rel=0.002)


@pytest.mark.source(
    work=KROO,
    where="arc at no incidence to its chord: A0 = 0, no suction peak; A0 grows as the incidence",
    tolerance="abs 0.004 rad: arcs up to 15 % are not quite thin",
)
@pytest.mark.parametrize("camber", [0.05, 0.10, 0.15])
@pytest.mark.parametrize("incidence", [0.0, 0.05, 0.1])
def test_incidence_parameter_of_the_arc(camber: float, incidence: float) -> None:
    flow, _ = section(*circular_arc(camber, 7), incidence)
    assert flow.strip.incidence[0] == pytest.approx(incidence, abs=0.004)


@pytest.mark.source(
    work=KROO,
    where="arc: moment about 1/4 chord - pi f; centre of pressure at mid-chord at no incidence",
    tolerance="rel 2.5 %: 7 panels; 1 % with 20",
)
@pytest.mark.parametrize(("panels", "within"), [(7, 0.025), (20, 0.01)])
def test_moment_of_the_arc(panels: int, within: float) -> None:
    flow, nodes = section(*circular_arc(0.05, panels), 0.0)
    assert quarter_moment(flow, nodes) == pytest.approx(-0.05 * np.pi, rel=within)


@pytest.mark.source(
    work=ABBOTT,
    where="sections 4.3 and 4.4: zero lift of the four-digit mean line, Glauert's integrals with "
    "SciPy",
    tolerance="abs 0.1 degree at 10 % camber: 7 panels",
)
@pytest.mark.parametrize("draft", [0.30, 0.35, 0.40, 0.45, 0.50, 0.55])
def test_zero_lift_angle_by_draft(draft: float) -> None:
    aft = np.linspace(0.0, 1.0, 8)
    flow, _ = section(aft, mean_line(draft, 1e-3)(aft), 0.0)
    zero_lift = -2 * flow.circulation[-1] / (2 * np.pi) * 100.0
    assert np.degrees(zero_lift) == pytest.approx(np.degrees(theory(draft, 0.1)[0]), abs=0.1)


@pytest.mark.source(
    work=ABBOTT,
    where="sections 4.3 and 4.4: quarter-chord moment of the four-digit mean line",
    tolerance="rel 5 % with 7 panels, 1 % with 24",
)
@pytest.mark.parametrize("draft", [0.30, 0.40, 0.50, 0.55])
@pytest.mark.parametrize(("panels", "within"), [(7, 0.05), (24, 0.01)])
def test_moment_by_draft(draft: float, panels: int, within: float) -> None:
    aft = np.linspace(0.0, 1.0, panels + 1)
    flow, nodes = section(aft, mean_line(draft, 1e-3)(aft), 0.0)
    assert quarter_moment(flow, nodes) == pytest.approx(theory(draft, 1e-3)[2], rel=within)


@pytest.mark.source(
    work=ABBOTT,
    where="section 4.3: ideal angle of the four-digit mean line at 10 % camber, +2.00 degrees with "
    "the draft at 35 % to -0.63 at 55 %",
    tolerance="abs 0.25 degree with 7 panels; with the draft at 30 % the kink needs 24 panels",
)
@pytest.mark.parametrize(
    ("draft", "panels"), [(0.30, 24), (0.35, 7), (0.40, 7), (0.45, 7), (0.50, 7), (0.55, 7)]
)
def test_ideal_angle_by_draft(draft: float, panels: int) -> None:
    aft = np.linspace(0.0, 1.0, panels + 1)
    flow, _ = section(aft, mean_line(draft, 1e-3)(aft), 0.0)
    ideal = -100.0 * flow.strip.incidence[0]
    assert np.degrees(ideal) == pytest.approx(np.degrees(theory(draft, 0.1)[1]), abs=0.25)
