"""Lift, moment and induced drag of single wings in free air, against printed ones.

A wing stands on end here: span along the mast, wind from ahead, lift to port.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest

from luffwright.air.lattice import FREE_AIR, lattice, solve_flow
from luffwright.air.lattice_mesh import sheet_mesh
from luffwright.air.trefftz import trefftz_drag
from luffwright.arrays import FloatArray

INDEPENDENT = "Independent vortex sums in plain NumPy, written without sight of this program"
SMALL = 1e-3
"""Incidence at which the slopes are taken [rad]."""
TUCK = (
    "Tuck, Some accurate solutions of the lifting surface integral equation, J. Australian "
    "Mathematical Society B 35, 1993"
)
BERTIN = "Bertin and Cummings, Aerodynamics for Engineers, example 7.2"


@dataclass(frozen=True)
class Loads:
    """Coefficients of a wing on its own area; moment about the apex on a chord of one."""

    lift: float
    drag: float
    wake_drag: float
    moment: float
    circulation: FloatArray
    aspect: float


def fly_wing(  # one argument for each choice of the cases below
    span: FloatArray,
    lead: FloatArray,
    chord: FloatArray,
    panels: int,
    *,
    inset: float = 0.25,
    incidence: float = SMALL,
    camber: Callable[[FloatArray], FloatArray] | None = None,
) -> Loads:
    """Return the loads of a wing given by span stations, leading edge (aft) and chord."""
    share = np.linspace(0.0, 1.0, panels + 1)
    aft = lead[:, None] + chord[:, None] * share
    bulge = np.zeros_like(aft) if camber is None else chord[:, None] * camber(share)
    nodes = np.stack([-aft, bulge, np.broadcast_to(span[:, None], aft.shape)], axis=2)
    nodes = nodes.reshape(-1, 3)
    sheet = sheet_mesh(len(span), panels + 1, inset_foot=inset, inset_head=inset)
    mesh = lattice((sheet,), (0.0,))
    along = np.array([-np.cos(incidence), np.sin(incidence), 0.0])
    flow = solve_flow(
        mesh, nodes, lambda at: np.tile(along, (len(at), 1)), FREE_AIR, 1.0,
        stalling=False, core=(1e-6, 1e-6),
    )  # fmt: skip
    force = flow.node_force.sum(axis=0)
    area = float(np.sum(0.5 * (chord[1:] + chord[:-1]) * np.diff(span)))
    across = np.array([np.sin(incidence), np.cos(incidence), 0.0])
    moment = float(np.sum(flow.node_force[:, 1] * nodes[:, 0]))
    return Loads(
        2.0 * float(force @ across) / area,
        2.0 * float(force @ along) / area,
        2.0 * trefftz_drag(mesh, nodes, flow, FREE_AIR) / area,
        2.0 * moment / area,
        flow.circulation[panels - 1 :: panels],
        float(np.ptp(span)) ** 2 / area,
    )


def rectangle(aspect: float, strips: int = 60, panels: int = 8) -> Loads:
    span = np.linspace(-0.5 * aspect, 0.5 * aspect, strips + 1)
    return fly_wing(span, np.zeros_like(span), np.ones_like(span), panels)


def ellipse(aspect: float, strips: int = 64, panels: int = 8) -> Loads:
    out = np.linspace(-1.0, 1.0, strips + 1)
    chord = np.sqrt(np.maximum(1.0 - out**2, 1e-6))
    return fly_wing(np.pi / 8.0 * aspect * out, 0.5 * (1.0 - chord), chord, panels)


def swept(strips: int, panels: int, *, inset: float, incidence: float = SMALL) -> Loads:
    """Return the loads of Bertin's wing: aspect ratio 5, swept 45°, no taper."""
    span = np.linspace(-0.5, 0.5, strips + 1)
    chord = np.full_like(span, 0.2)
    return fly_wing(span, np.abs(span), chord, panels, inset=inset, incidence=incidence)


@pytest.mark.source(
    work=BERTIN,
    where="lift slope 0.0601 a degree of the wing of aspect ratio 5 swept 45 degrees, four panels "
    "a side and one along the chord, p. 343, as quoted in an open validation file",
    tolerance="rel 0.2 %: three printed digits, the same lattice by hand",
)
def test_the_lift_slope_of_the_textbooks_hand_worked_lattice() -> None:
    slope = swept(8, 1, inset=0.0).lift / SMALL
    assert np.radians(slope) == pytest.approx(0.0601, rel=0.002)


@pytest.mark.source(
    work=BERTIN,
    where="circulations over 4 pi b U alpha from root to tip: 0.0273 0.0287 0.0286 0.0250 (from "
    "memory; another lattice program gives the same digits)",
    tolerance="abs 0.00005: half of the last printed digit",
)
def test_the_circulations_of_the_textbooks_hand_worked_lattice() -> None:
    circulation = swept(8, 1, inset=0.0).circulation[4:] / (4.0 * np.pi * SMALL)
    assert circulation == pytest.approx([0.0273, 0.0287, 0.0286, 0.0250], abs=5e-5)


@pytest.mark.source(
    work="Warren-12, the test wing of subsonic lifting-surface programs",
    where="lift slope 2.743 and moment slope -3.10 about the apex on a chord of one, as given with "
    "two independent open lattice programs",
    tolerance="rel 0.5 %: other programs on finer meshes scatter by that much",
)
def test_lift_and_moment_of_the_swept_and_tapered_wing() -> None:
    half = np.sqrt(2.0)
    span = np.linspace(-half, half, 61)
    out = np.abs(span)
    loads = fly_wing(span, out * np.tan(np.radians(53.54)), 1.5 - out / half, 8)
    assert loads.lift / SMALL == pytest.approx(2.743, rel=0.005)
    assert loads.moment / SMALL == pytest.approx(-3.10, rel=0.005)


@pytest.mark.source(
    work=TUCK,
    where="large-aspect formula of the lift slope: "
    "2 pi - pi (ln A + 2.5620) / A + 1.404 (ln A + 3.645) / A^2, as coded in an open library",
    tolerance="rel 0.2 %: the formula's own error at aspect ratio 5",
)
@pytest.mark.parametrize("aspect", [5.0, 8.0, 12.0])
def test_lift_slopes_of_long_rectangular_wings(aspect: float) -> None:
    log = np.log(aspect)
    printed = 2 * np.pi - np.pi * (log + 2.5620) / aspect + 1.404 * (log + 3.645) / aspect**2
    assert rectangle(aspect).lift / SMALL == pytest.approx(printed, rel=0.002)


@pytest.mark.source(
    work=TUCK,
    where="lift slope of the square wing, 1.460227 (from memory)",
    tolerance="rel 0.1 %: 8 x 60 panels short of the limit",
)
def test_lift_slope_of_the_square_wing() -> None:
    assert rectangle(1.0).lift / SMALL == pytest.approx(1.460227, rel=0.001)


@pytest.mark.source(
    work="Jordan, exact lifting-surface solution of the circular wing, 1971",
    where="lift slope of the circular planform, 1.79075 (from memory)",
    tolerance="rel 0.3 %: 12 x 64 panels short of the limit",
)
def test_lift_slope_of_the_circular_wing() -> None:
    assert ellipse(4.0 / np.pi, panels=12).lift / SMALL == pytest.approx(1.79075, rel=0.003)


@pytest.mark.source(
    work=INDEPENDENT,
    where="rectangular wings, 8 x 80 panels a side, tip inset: lift slope and span efficiency",
    tolerance="rel 0.1 %, both: mesh of 60 strips against 160",
)
@pytest.mark.parametrize(
    ("aspect", "slope", "efficiency"),
    [(1.0, 1.4596, 0.9999), (2.0, 2.4735, 0.9993), (5.0, 3.9530, 0.9892), (8.0, 4.5851, 0.9721)],
)
def test_slope_and_span_efficiency_of_rectangular_wings(
    aspect: float, slope: float, efficiency: float
) -> None:
    loads = rectangle(aspect)
    assert loads.lift / SMALL == pytest.approx(slope, rel=0.001)
    assert loads.lift**2 / (np.pi * aspect * loads.wake_drag) == pytest.approx(
        efficiency, rel=0.001
    )


@pytest.mark.source(
    work="Prandtl, Tragfluegeltheorie, Nachrichten Goettingen 1918",
    where="lifting line of elliptic load: slope 2 pi / (1 + 2 / A), induced drag C_L^2 / (pi A), "
    "the least of any plane wing",
    tolerance="drag rel 0.5 %; slope below the lifting line's, by 2 to 10 % at these aspect ratios",
)
@pytest.mark.parametrize("aspect", [6.366, 8.0])
def test_an_elliptic_wing_drags_least_and_stays_below_the_lifting_line(aspect: float) -> None:
    loads = ellipse(aspect)
    assert loads.lift**2 / (np.pi * aspect * loads.wake_drag) == pytest.approx(1.0, abs=0.005)
    assert 0.90 < loads.lift / SMALL / (2 * np.pi / (1 + 2 / aspect)) < 0.98


@pytest.mark.source(
    work="Munk, The minimum induced drag of aerofoils, NACA Report 121, 1921",
    where="no plane wing has a span efficiency above one",
    tolerance="0.2 %: the wake of finite strips",
)
@pytest.mark.parametrize("aspect", [1.0, 3.0, 9.0])
@pytest.mark.parametrize("strips", [6, 12, 24])
def test_no_mesh_gives_less_than_the_least_induced_drag(aspect: float, strips: int) -> None:
    loads = rectangle(aspect, strips=strips, panels=4)
    assert loads.lift**2 / (np.pi * aspect * loads.wake_drag) < 1.002


@pytest.mark.source(
    work="Katz and Plotkin, Low-Speed Aerodynamics, 2nd edition, 2001",
    where="section 8.2.3: the forces along the stream add up to the energy that the wake takes, "
    "in uniform onset (from memory)",
    tolerance="1 %; 1.5 % for a pointed sail with raked luff on 9 strips, where 24 strips give 0.4",
)
@pytest.mark.parametrize(
    ("taper", "strips", "within"),
    [(1.0, 9, 0.01), (0.5, 9, 0.01), (0.1, 9, 0.015), (1.0, 24, 0.01), (0.1, 24, 0.01)],
)
def test_forces_on_the_legs_and_the_wake_agree_on_the_drag(
    taper: float, strips: int, within: float
) -> None:
    span = np.linspace(0.0, 3.0, strips + 1)
    chord = 1.0 - (1.0 - taper) * span / 3.0
    loads = fly_wing(
        span, 0.3 * span, chord, 7, incidence=0.1, camber=lambda x: 0.4 * x * (1.0 - x)
    )
    assert loads.drag == pytest.approx(loads.wake_drag, rel=within)


@pytest.mark.source(
    work="Weber and Brebner, Low-speed tests on 45-deg swept-back wings, ARC R&M 2882, 1958",
    where="table 4, section RAE 101 12 %, Re 1.7e6, alpha 2.1 and 4.2 degrees: C_L 0.121, 0.238, "
    "as quoted in an open validation file",
    tolerance="rel 5 %: thickness raises the lift, the boundary layer lowers it, neither is here",
)
@pytest.mark.parametrize(("degrees", "lift"), [(2.1, 0.121), (4.2, 0.238)])
def test_measured_lift_of_the_swept_wing(degrees: float, lift: float) -> None:
    found = swept(48, 6, inset=0.25, incidence=np.radians(degrees)).lift
    assert found == pytest.approx(lift, rel=0.05)


@pytest.mark.source(
    work=INDEPENDENT,
    where="lift over camber of parabolic arcs at no incidence, 16 x 40 panels a side; two "
    "dimensions: 4 pi",
    tolerance="rel 0.5 %: three printed digits, coarser mesh",
)
@pytest.mark.parametrize(("aspect", "ratio"), [(2.0, 5.75), (5.0, 8.34), (8.0, 9.455)])
def test_lift_of_cambered_wings(aspect: float, ratio: float) -> None:
    span = np.linspace(-0.5 * aspect, 0.5 * aspect, 49)
    rise = 1e-3
    loads = fly_wing(
        span, np.zeros_like(span), np.ones_like(span), 8, incidence=0.0,
        camber=lambda x: 4.0 * rise * x * (1.0 - x),
    )  # fmt: skip
    assert loads.lift / rise == pytest.approx(ratio, rel=0.005)
