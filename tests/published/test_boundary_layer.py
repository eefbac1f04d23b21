"""Boundary layers by integral methods against exact layers and measured turbulent ones."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import CubicHermiteSpline, PchipInterpolator
from scipy.optimize import brentq

from luffwright.air.boundary_layer import Layer, laminar, profile_drag, turbulent, turns_turbulent
from luffwright.air.nose import NOSE
from luffwright.arrays import FloatArray

SCHLICHTING = "Schlichting, Boundary-Layer Theory, 1979"
STANFORD = (
    "Coles and Hirst (eds.), Proceedings Computation of Turbulent Boundary Layers, AFOSR-IFP-"
    "Stanford Conference, 1968, vol. II"
)
PLACE = np.linspace(0.0, 1.0, 2001)
# Measured by Ludwieg and Tillmann in a mild adverse gradient: x [m], velocity [m/s], momentum
# thickness [cm], shape factor, 1e5 times the friction coefficient; viscosity 1.55e-5 m2/s.
MILD = np.array([
    [0.782, 1.282, 1.782, 2.282, 2.782, 3.132, 3.332, 3.532, 3.732, 3.932, 4.132, 4.332],
    [33.90, 32.60, 30.70, 28.60, 27.10, 26.05, 25.75, 24.85, 24.50, 24.05, 23.60, 23.10],
    [0.276, 0.413, 0.606, 0.811, 1.074, 1.276, 1.432, 1.614, 1.773, 2.005, 2.246, 2.528],
    [1.381, 1.394, 1.402, 1.427, 1.457, 1.485, 1.492, 1.519, 1.542, 1.566, 1.594, 1.618],
    [285, 249, 221, 205, 180, 168, 162, 150, 141, 133, 124, 117],
])  # fmt: skip
MILD_SLOPE = [-2.30, -3.35, -4.32, -3.58, -3.00, -2.74, -2.60, -2.50, -2.40, -2.30, -2.25, -2.18]
"""Slope of the velocity as measured [1/s]."""
# The same in a strong adverse gradient, up to 3.132 m; viscosity 1.50e-5 m2/s.
STRONG = np.array([
    [0.782, 1.282, 1.782, 2.282, 2.782, 3.132],
    [33.00, 31.20, 28.80, 27.10, 24.65, 23.45],
    [0.245, 0.389, 0.603, 0.811, 1.203, 1.523],
    [1.384, 1.400, 1.460, 1.457, 1.535, 1.604],
    [292, 249, 205, 194, 155, 133],
])  # fmt: skip
# The same accelerating; viscosity 1.54e-5 m2/s.
FAST = np.array([
    MILD[0],
    [11.52, 13.38, 15.61, 17.85, 20.20, 22.07, 22.90, 23.70, 25.13, 25.80, 26.40, 27.50],
    [0.135, 0.149, 0.158, 0.173, 0.189, 0.196, 0.196, 0.203, 0.196, 0.219, 0.227, 0.227],
    [1.426, 1.376, 1.371, 1.360, 1.368, 1.363, 1.355, 1.347, 1.336, 1.353, 1.346, 1.341],
    [461, 440, 415, 398, 375, 362, 362, 356, 362, 338, 335, 338],
])  # fmt: skip


def measured_flow(
    rows: FloatArray, viscosity: float, slope: list[float] | None = None
) -> tuple[FloatArray, Layer]:
    """Return rows and the layer computed from their first station, at the stations."""
    x, speed = rows[0], rows[1]
    fine = np.linspace(x[0], x[-1], 2001)
    curve = CubicHermiteSpline(x, speed, slope) if slope else PchipInterpolator(x, speed)
    found = turbulent(fine, curve(fine), 1.0 / viscosity, (rows[2, 0] / 100.0, rows[3, 0]))
    thickness, shape, friction = (
        np.interp(x, fine, part) for part in (found.thickness, found.shape, found.friction)
    )
    return rows, Layer(x, thickness, shape, friction, found.separates)


@pytest.mark.source(
    work=f"{SCHLICHTING}: Blasius' plate, momentum thickness 0.664, friction 0.664, shape 2.59",
    where="over the root of x / Re",
    tolerance="thickness and shape 1.2 %, friction 2 %: Thwaites' quadrature",
)
def test_a_laminar_plate() -> None:
    found = laminar(PLACE, np.ones_like(PLACE), 1e6)
    assert found.thickness[-1] * 1e3 == pytest.approx(0.664, rel=0.012)
    assert found.shape[-1] == pytest.approx(2.59, rel=0.012)
    assert found.friction[-1] * 1e3 == pytest.approx(0.664, rel=0.02)
    assert found.separates == np.inf


@pytest.mark.source(
    work="Howarth, Proc. Royal Society A 164, 1938: velocity 1 - x; separation at 0.120 (0.1198 "
    "and the thicknesses by finite differences of our own on two meshes)",
    where="momentum thickness at x 0.025, 0.05, 0.1: 0.1096, 0.1624, 0.2544 over the root of Re",
    tolerance="separation 3.5 %, thickness 1.5 %",
)
def test_a_laminar_layer_in_howarths_flow() -> None:
    at = np.linspace(0.0, 0.14, 1401)
    found = laminar(at, 1.0 - at, 1e6)
    assert found.separates == pytest.approx(0.1198, rel=0.035)
    thick = np.interp([0.025, 0.05, 0.1], at, found.thickness) * 1e3
    assert thick == pytest.approx([0.1096, 0.1624, 0.2544], rel=0.015)


@pytest.mark.source(
    work=f"{SCHLICHTING}: Hiemenz' stagnation point, momentum thickness 0.292, shape 2.216; "
    "cylinder with velocity 2 sin: separation at 104.5 degrees",
    where="thickness over the root of Re times the velocity's slope",
    tolerance="thickness 7 %, as Thwaites is known to lie low there; separation 2 degrees",
)
def test_a_laminar_layer_from_a_stagnation_point() -> None:
    angle = np.linspace(0.0, 2.0, 2001)
    found = laminar(angle, 2.0 * np.sin(angle), 1e6)
    assert found.thickness[0] * 1e3 * np.sqrt(2.0) == pytest.approx(0.292, rel=0.07)
    assert found.shape[0] == pytest.approx(2.216, rel=0.08)
    assert np.degrees(found.separates) == pytest.approx(104.5, abs=2.0)


def parabola_separates(incidence: float) -> float:
    """Return by how much the layer on a parabola's nose is off its separation.

    Nose of radius 1, y the ordinate: velocity (y + k) / root(1 + y^2) from stagnation at y = -k.
    """
    y = np.linspace(-incidence, 30.0, 12001)
    arc = 0.5 * (y * np.sqrt(1.0 + y**2) + np.arcsinh(y))
    at = arc - arc[0]
    velocity = (y + incidence) / np.sqrt(1.0 + y**2)
    found = laminar(at, velocity, 1e6)
    gradient = 1e6 * found.thickness**2 * np.gradient(velocity, at, edge_order=2)
    return float(gradient.min() + 0.09)


@pytest.mark.source(
    work="Werle and Davis, Incompressible laminar boundary layers on a parabola at angle of "
    "attack, J. Appl. Mech. 39, 1972 (from memory)",
    where="the layer separates from an incidence of 1.155 (in the nose's curvature) on",
    tolerance="15 %: behind a peak of suction Thwaites' layer separates late, by 13 % here",
)
def test_the_incidence_at_which_a_laminar_layer_leaves_a_parabolas_nose() -> None:
    assert brentq(parabola_separates, 0.6, 2.0) == pytest.approx(NOSE, rel=0.15)


@pytest.mark.source(
    work=f"{SCHLICHTING}: turbulent plate, 0.0592 Re^-0.2 locally and 0.455 / (log Re)^2.58 in all "
    "(from memory)",
    where="turbulent from near the edge, Re 1e6 and 5e6",
    tolerance="8 %: the two laws differ by 4 %",
)
@pytest.mark.parametrize("reynolds", [1e6, 5e6])
def test_a_turbulent_plate(reynolds: float) -> None:
    at = np.geomspace(0.01, 1.0, 1500)
    start = 0.036 * 0.01 * (reynolds * 0.01) ** -0.2
    found = turbulent(at, np.ones_like(at), reynolds, (start, 1.5))
    assert found.friction[-1] == pytest.approx(0.0592 * reynolds**-0.2, rel=0.08)
    whole = profile_drag(float(found.thickness[-1]), float(found.shape[-1]), 1.0)
    assert whole == pytest.approx(0.455 / np.log10(reynolds) ** 2.58, rel=0.08)
    assert found.separates == np.inf


@pytest.mark.source(
    work=STANFORD,
    where="flow 1100, Ludwieg and Tillmann, mild adverse gradient, 12 stations",
    tolerance="shape 0.06, friction 10 %; thickness 12 % up to 2.3 m: further aft the tunnel's "
    "flow converges, which no plane method meets",
)
def test_a_turbulent_layer_in_a_mild_adverse_gradient() -> None:
    rows, found = measured_flow(MILD, 1.55e-5, MILD_SLOPE)
    assert found.shape == pytest.approx(rows[3], abs=0.06)
    assert found.friction * 1e5 == pytest.approx(rows[4], rel=0.10)
    assert found.thickness[:4] * 100 == pytest.approx(rows[2, :4], rel=0.12)


@pytest.mark.source(
    work=STANFORD,
    where="flow 1200, Ludwieg and Tillmann, strong adverse gradient, stations up to 3.13 m",
    tolerance="shape 0.06; further aft the measured layer is near separation and no longer plane",
)
def test_a_turbulent_layer_in_a_strong_adverse_gradient() -> None:
    rows, found = measured_flow(STRONG, 1.50e-5)
    assert found.shape == pytest.approx(rows[3], abs=0.06)


@pytest.mark.source(
    work=STANFORD,
    where="flow 1300, Ludwieg and Tillmann, accelerating, stations behind 0.8 m",
    tolerance="friction 10 %, thickness 20 %",
)
def test_a_turbulent_layer_that_is_sped_up() -> None:
    rows, found = measured_flow(FAST, 1.54e-5)
    assert found.friction[1:] * 1e5 == pytest.approx(rows[4, 1:], rel=0.10)
    assert found.thickness[1:] * 100 == pytest.approx(rows[2, 1:], rel=0.20)


@pytest.mark.source(
    work=f"{SCHLICHTING}: a plate's layer turns turbulent between Re 3.2e5 (rough stream) and 3e6 "
    "(quiet stream)",
    where="text on transition (from memory)",
    tolerance="between the two",
)
def test_a_plates_layer_turns_turbulent_by_its_run() -> None:
    even = np.ones_like(PLACE)
    assert 3.2e5 < 1e7 * turns_turbulent(laminar(PLACE, even, 1e7), even, 1e7) < 3e6
