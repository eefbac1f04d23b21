"""Density and viscosity of sea water against printed ones."""

from __future__ import annotations

import pytest

from luffwright.air.fluid import FREEZING
from luffwright.water.fluid import water_density, water_viscosity

ITTC = "ITTC recommended procedure 7.5-02-01-03, Fresh water and seawater properties"
ITTC_DENSITY = [
    (1.0, 1028.0941), (4.0, 1027.8336), (10.0, 1027.0000), (15.0, 1026.021), (20.0, 1024.8103),
    (25.0, 1023.3873), (30.0, 1021.7694),
]  # fmt: skip
TEOS_DENSITY = [
    (0.0, 1028.107), (5.0, 1027.676), (10.0, 1026.954), (15.0, 1025.976), (20.0, 1024.765),
    (25.0, 1023.343), (30.0, 1021.726),
]  # fmt: skip


@pytest.mark.source(
    work=ITTC,
    where="salt water of 35.165 g/kg, 1 to 30 degrees, as printed in public ship codes",
    tolerance="abs 0.06 kg/m3: the table adds one atmosphere of sea pressure (0.045)",
)
@pytest.mark.parametrize(("celsius", "density"), ITTC_DENSITY)
def test_density_of_the_towing_tanks_table(celsius: float, density: float) -> None:
    assert water_density(FREEZING + celsius) == pytest.approx(density, abs=0.06)


@pytest.mark.source(
    work="TEOS-10 thermodynamic equation of sea water, by the open library gsw",
    where="absolute salinity 35.16504 g/kg at the surface, 0 to 30 degrees",
    tolerance="abs 0.01 kg/m3: an older equation of state",
)
@pytest.mark.parametrize(("celsius", "density"), TEOS_DENSITY)
def test_density_at_the_surface(celsius: float, density: float) -> None:
    assert water_density(FREEZING + celsius) == pytest.approx(density, abs=0.01)


@pytest.mark.source(
    work=ITTC,
    where="15 degrees: salt 1.18831e-6 m2/s; fresh 999.1026 kg/m3 and 1.13858e-6 m2/s",
    tolerance="viscosity rel 0.3 %, density abs 0.01 kg/m3: other correlations",
)
def test_water_at_fifteen_degrees() -> None:
    warm = FREEZING + 15.0
    assert water_viscosity(warm) == pytest.approx(1.18831e-6, rel=3e-3)
    assert water_viscosity(warm, 0.0) == pytest.approx(1.13858e-6, rel=3e-3)
    assert water_density(warm, 0.0) == pytest.approx(999.1026, abs=0.01)


@pytest.mark.source(
    work="MIT property tables of sea water, after Sharqawy, Lienhard and Zubair 2010",
    where="kinematic viscosity at 35 g/kg, 0 to 40 degrees",
    tolerance="rel 0.3 %: four printed digits",
)
@pytest.mark.parametrize(
    ("celsius", "viscosity_e7"),
    [(0.0, 18.54), (10.0, 13.60), (20.0, 10.50), (25.0, 9.37), (30.0, 8.42), (40.0, 6.95)],
)
def test_viscosity_by_temperature(celsius: float, viscosity_e7: float) -> None:
    assert water_viscosity(FREEZING + celsius) * 1e7 == pytest.approx(viscosity_e7, rel=3e-3)


@pytest.mark.source(
    work="Tupper, Introduction to Naval Architecture (author from memory)",
    where="table 5.1, p. 97: salt water at 0, 10, 20, 30 degrees",
    tolerance="rel 1.5 %: an older table",
)
@pytest.mark.parametrize(
    ("celsius", "viscosity_e6"), [(0.0, 1.828), (10.0, 1.354), (20.0, 1.054), (30.0, 0.849)]
)
def test_viscosity_of_the_textbook(celsius: float, viscosity_e6: float) -> None:
    assert water_viscosity(FREEZING + celsius) * 1e6 == pytest.approx(viscosity_e6, rel=0.015)
