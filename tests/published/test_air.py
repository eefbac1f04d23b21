"""Density and viscosity of the air against printed ones."""

from __future__ import annotations

import pytest

from luffwright.air.fluid import FREEZING, air_density, air_viscosity

ISO = "ISO 2533:1975, Standard Atmosphere"


@pytest.mark.source(
    work=ISO,
    where="sea level, 15 degrees: density 1.2250 kg/m3, dynamic viscosity 1.78938e-5 Pa s, "
    "kinematic 1.46072e-5 m2/s",
    tolerance="all printed digits",
)
def test_standard_air_at_sea_level() -> None:
    density, viscosity = air_density(FREEZING + 15.0), air_viscosity(FREEZING + 15.0)
    assert density == pytest.approx(1.2250, abs=5e-5)
    assert viscosity == pytest.approx(1.78938e-5, abs=5e-11)
    assert viscosity / density == pytest.approx(1.46072e-5, abs=5e-11)


@pytest.mark.source(
    work="MetPy, an open library of meteorology",
    where="density at 1013.25 hPa: dry at 0 and 15 degrees, 80 per cent humid at 10 to 30 degrees",
    tolerance="abs 0.0003 kg/m3: another formula of the vapour pressure",
)
@pytest.mark.parametrize(
    ("celsius", "humidity", "density"),
    [
        (0.0, 0.0, 1.2923), (15.0, 0.0, 1.2250), (10.0, 0.8, 1.2421), (15.0, 0.8, 1.2188),
        (20.0, 0.8, 1.1957), (30.0, 0.8, 1.1497),
    ],
)  # fmt: skip
def test_density_by_temperature_and_humidity(
    celsius: float, humidity: float, density: float
) -> None:
    assert air_density(FREEZING + celsius, humidity) == pytest.approx(density, abs=3e-4)
