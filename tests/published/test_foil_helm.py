"""What the helm is made of against closed forms and printed tables."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from luffwright.aboard.boat import load_boat
from luffwright.water.fluid import Water
from luffwright.water.foil_estimate import keel_of
from luffwright.water.side_force import Sailing
from luffwright.water.yaw import hull_yaw, spheroid_inertia

MUNK = "Munk, The Aerodynamic Forces on Airship Hulls, NACA Report 184, 1924"
DESIGN = "Larsson and Eliasson, Principles of Yacht Design"


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
    hull, sailing = load_boat("marram").hull, Sailing(3.0, 0.0, math.radians(5.0), 0.0)
    steps = 2000
    stations = [(2.0 * (place + 0.5) / steps - 1.0) for place in range(steps)]
    length, draught = hull.length_waterline, hull.draught_body
    radii = [draught * (1.0 - x * x) for x in stations]
    half_volume = sum(0.5 * math.pi * r * r for r in radii) * length / steps
    along, across = spheroid_inertia(0.5 * length / draught)
    moment = 0.5 * 1000.0 * 9.0 * (across - along) * half_volume * math.sin(2.0 * sailing.leeway)
    assert -hull_yaw(hull, sailing, Water(1000.0, 1e-6)) == pytest.approx(moment, rel=1e-3)


@pytest.mark.source(
    work=DESIGN,
    where="lead of the sails' geometric centre before the keel's, keel drawn up to the waterline, "
    "per cent of the waterline: masthead sloop 5 to 9, fractional 3 to 7 (from memory)",
    tolerance="the printed ranges, one per cent either side: the centre of area is simplified",
)
@pytest.mark.parametrize(("key", "low", "high"), [("marram", 5.0, 9.0), ("dunlin", 3.0, 7.0)])
def test_the_lead_of_the_demo_boats_is_as_designers_draw_it(
    key: str, low: float, high: float
) -> None:
    boat = load_boat(key)
    plan, keel = boat.plan, keel_of(boat.hull)
    fore, gear = plan.headsail_gear.tack[0], plan.mainsail_gear
    areas = (0.5 * plan.mainsail.luff * plan.mainsail.foot, 0.5 * fore * (plan.mast.hounds - 1.1))
    middles = (gear.tack[0] - plan.mainsail.foot / 3.0, fore / 3.0)
    centre = sum(a * x for a, x in zip(areas, middles, strict=True)) / sum(areas)
    # The quarter chord at 45 % of the draught.
    down = 0.45 * boat.hull.draught - keel.depth
    lead = centre - (keel.x_position - down * math.tan(keel.sweep))
    assert low - 1.0 < 100.0 * lead / boat.hull.length_waterline < high + 1.0


@pytest.mark.source(
    work=MUNK,
    where="the moment grows with speed squared and with sin 2a",
    tolerance="exact",
)
def test_the_hulls_moment_scales_as_printed() -> None:
    hull, slow = load_boat("eider").hull, Sailing(2.0, 0.0, math.radians(3.0), 0.0)
    fast = replace(slow, speed=4.0)
    wide = replace(slow, leeway=math.radians(6.0))
    assert hull_yaw(hull, fast) == pytest.approx(4.0 * hull_yaw(hull, slow))
    share = math.sin(math.radians(12.0)) / math.sin(math.radians(6.0))
    assert hull_yaw(hull, wide) == pytest.approx(share * hull_yaw(hull, slow))
