"""What the helm is made of against closed forms and printed tables."""

from __future__ import annotations

import math

import pytest

from luffwright.water.fluid import Water
from luffwright.water.hull import Hull
from luffwright.water.side_force import Sailing
from luffwright.water.yaw import hull_yaw, spheroid_inertia

MUNK = "Munk, The Aerodynamic Forces on Airship Hulls, NACA Report 184, 1924"


@pytest.mark.source(
    work="Lamb, Hydrodynamics, 6th edition, 1932",
    where="article 115, table of inertia coefficients k1, k2 of prolate spheroids at a/b 1.5, 2, "
    "3.99, 6.01, 8.01, 9.97 (from memory; also in Munk, NACA Report 184)",
    tolerance="abs 0.003: three digits, of which the one at 2.00 lies 0.002 off the closed form",
)
def test_the_added_mass_of_spheroids() -> None:
    printed = {
        1.50: (0.305, 0.621),
        2.00: (0.209, 0.702),
        3.99: (0.082, 0.860),
        6.01: (0.045, 0.918),
        8.01: (0.029, 0.945),
        9.97: (0.021, 0.960),
    }
    for fineness, values in printed.items():
        assert spheroid_inertia(fineness) == pytest.approx(values, abs=3e-3)


@pytest.mark.source(
    work=MUNK,
    where="moment of a slender body, q (k2 - k1) 2 volume sin 2a / 2, worked out here for half of "
    "a body of revolution with the hull's parabola of radii by numerical quadrature",
    tolerance="rel 0.1 %",
)
def test_the_hulls_moment_is_that_of_half_a_slender_body() -> None:
    sailing = Sailing(3.0, 0.0, math.radians(5.0), 0.0)
    hull = Hull(
        "monohull", 10.6, 8.6, 3.35, 2.75, 0.55, 1.75, 5600.0, 0.0, 4.7, (0.0, 1.0), (0.0, 0.9)
    )
    steps = 2000
    stations = [(2.0 * (place + 0.5) / steps - 1.0) for place in range(steps)]
    length, draught = hull.length_waterline, hull.draught_body
    radii = [draught * (1.0 - x * x) for x in stations]
    half_volume = sum(0.5 * math.pi * r * r for r in radii) * length / steps
    along, across = spheroid_inertia(0.5 * length / draught)
    moment = 0.5 * 1000.0 * 9.0 * (across - along) * half_volume * math.sin(2.0 * sailing.leeway)
    assert -hull_yaw(hull, sailing, Water(1000.0, 1e-6)) == pytest.approx(moment, rel=1e-3)
