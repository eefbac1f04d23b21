"""Wind over the sea by height against printed profiles."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.wind import wind_at, wind_profile

SMITH = "Smith, Coefficients for sea surface wind stress, J. Geophysical Research 93, 1988"
HSU = (
    "Hsu, Meindl and Gilhousen, Determining the power-law wind-profile exponent, J. Applied "
    "Meteorology 33, 1994"
)


@pytest.mark.source(
    work=SMITH,
    where="Charnock constant 0.011 with the smooth-flow term 0.11 nu / u*; solved independently in "
    "plain NumPy: U(z) / U10 at 2, 3, 5, 15, 20 m",
    tolerance="abs 0.0004: viscosity 1.50e-5 here, 1.46e-5 there, and four printed digits",
)
@pytest.mark.parametrize(
    ("speed", "shares"),
    [
        (5.0, [0.8708, 0.9033, 0.9444, 1.0325, 1.0556]),
        (10.0, [0.8551, 0.8916, 0.9376, 1.0365, 1.0624]),
        (15.0, [0.8412, 0.8812, 0.9316, 1.0400, 1.0684]),
    ],
)
def test_the_logarithmic_profile(speed: float, shares: list[float]) -> None:
    height = np.array([2.0, 3.0, 5.0, 15.0, 20.0])
    assert wind_at(wind_profile(speed), height) / speed == pytest.approx(shares, abs=4e-4)


@pytest.mark.source(
    work="IEC 61400-3, Design requirements for offshore wind turbines, edition 1",
    where="equation 3: power law with exponent 0.14, as quoted from p. 22",
    tolerance="abs 0.0001: four digits",
)
def test_the_power_law_of_the_offshore_standard() -> None:
    found = wind_at(wind_profile(8.0, 0.14), np.array([2.0, 3.0, 5.0, 15.0, 20.0])) / 8.0
    assert found == pytest.approx([0.7983, 0.8449, 0.9075, 1.0584, 1.1019], abs=1e-4)


@pytest.mark.source(
    work=HSU,
    where="measured exponent over the open sea in near-neutral air, 0.11 (its band of 0.03 from "
    "memory)",
    tolerance="abs 0.03, between 3 and 20 m at 5 to 15 m/s",
)
@pytest.mark.parametrize("speed", [5.0, 10.0, 15.0])
def test_the_profile_is_as_steep_as_measured_at_sea(speed: float) -> None:
    low, high = wind_at(wind_profile(speed), np.array([3.0, 20.0]))
    assert np.log(high / low) / np.log(20.0 / 3.0) == pytest.approx(0.11, abs=0.03)


COARE = (
    "Edson et al., On the exchange of momentum over the open ocean, J. Physical Oceanography 43, "
    "2013 (COARE 3.5)"
)


@pytest.mark.source(
    work=COARE,
    where="neutral air, U(3 m) / U10 at 5, 10, 15 m/s: 0.9087 0.8906 0.8714, from the open code of "
    "the algorithm",
    tolerance="abs 0.011: its roughness grows faster with the wind",
)
@pytest.mark.parametrize(("speed", "share"), [(5.0, 0.9087), (10.0, 0.8906), (15.0, 0.8714)])
def test_the_profile_against_a_newer_roughness(speed: float, share: float) -> None:
    found = wind_at(wind_profile(speed), np.array([3.0]))[0] / speed
    assert found == pytest.approx(share, abs=0.011)


@pytest.mark.xfail(
    strict=True,
    reason="no stability: air 2 and 5 degrees warmer than the sea keeps the wind aloft, U(3) / U10 "
    "0.820 and 0.734 at 5 m/s, where the neutral profile here gives 0.903",
)
@pytest.mark.source(
    work=COARE,
    where="sea at 15 degrees, humidity 80 per cent, U10 5 m/s, air warmer by 2 and 5 degrees: "
    "U(3 m) / U10 0.820 and 0.734, from the open code of the algorithm",
    tolerance="abs 0.02 asked in warm air over a cold sea",
)
@pytest.mark.parametrize("share", [0.820, 0.734])
def test_the_profile_in_warm_air_over_a_cold_sea(share: float) -> None:
    found = wind_at(wind_profile(5.0), np.array([3.0]))[0] / 5.0
    assert found == pytest.approx(share, abs=0.02)
