"""Friction of the wind on the sea: friction velocity, roughness, drag coefficient."""

from __future__ import annotations

import pytest

from luffwright.air.wind import wind_profile

FAIRALL = (
    "Fairall, Bradley, Hare, Grachev and Edson, Bulk parameterization of air-sea fluxes, J. "
    "Climate 16, 2003 (COARE 3.0)"
)


@pytest.mark.source(
    work=FAIRALL,
    where="Charnock constant 0.011 up to 10 m/s; solved independently in plain NumPy: friction "
    "velocity 0.1606 and 0.3601 m/s, roughness 3.89e-5 and 1.50e-4 m at 5 and 10 m/s",
    tolerance="rel 0.1 % and 1 %: viscosity 1.50e-5 here, 1.46e-5 there",
)
@pytest.mark.parametrize(
    ("speed", "friction", "roughness"), [(5.0, 0.1606, 3.89e-5), (10.0, 0.3601, 1.50e-4)]
)
def test_friction_velocity_and_roughness(speed: float, friction: float, roughness: float) -> None:
    profile = wind_profile(speed)
    assert profile.friction == pytest.approx(friction, rel=0.001)
    assert profile.roughness == pytest.approx(roughness, rel=0.01)


@pytest.mark.source(
    work="Smith, Wind stress and heat flux over the ocean in gale force winds, J. Physical "
    "Oceanography 10, 1980",
    where="equation 14: 1000 C_D = 0.61 + 0.063 U10, as coded in an open library",
    tolerance="rel 12 %: the scatter between fits of measured drag",
)
@pytest.mark.parametrize("speed", [6.0, 10.0, 15.0, 20.0])
def test_drag_of_the_sea_by_smith(speed: float) -> None:
    drag = 1000.0 * (wind_profile(speed).friction / speed) ** 2
    assert drag == pytest.approx(0.61 + 0.063 * speed, rel=0.12)


@pytest.mark.source(
    work="Large and Pond, Open ocean momentum flux measurements in moderate to strong winds, J. "
    "Physical Oceanography 11, 1981",
    where="1000 C_D = 1.2 below 11 m/s, 0.49 + 0.065 U10 above",
    tolerance="rel 15 %: the scatter between fits of measured drag",
)
@pytest.mark.parametrize(("speed", "drag"), [(5.0, 1.20), (10.0, 1.20), (15.0, 1.465)])
def test_drag_of_the_sea_by_large_and_pond(speed: float, drag: float) -> None:
    found = 1000.0 * (wind_profile(speed).friction / speed) ** 2
    assert found == pytest.approx(drag, rel=0.15)
