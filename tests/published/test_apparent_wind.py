"""Apparent wind by height: the sum of two vectors at each level of the profile."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.stream import Stream, from_apparent
from luffwright.air.wind import WindProfile, wind_profile

HEIGHT = np.array([2.0, 5.0, 10.0, 15.0])
ARITHMETIC = "Vector sum of true wind and boat speed (arithmetic)"


@pytest.mark.source(
    work=ARITHMETIC,
    where="true wind 6 m/s at 45 degrees, boat 3 m/s, power laws 0.14 and 0.11: angles at 2, 5, "
    "10, 15 m",
    tolerance="abs 0.01 degree: two decimals",
)
@pytest.mark.parametrize(
    ("exponent", "angles"),
    [(0.14, [27.94, 29.34, 30.36, 30.94]), (0.11, [28.47, 29.56, 30.36, 30.82])],
)
def test_apparent_angle_upwind_by_height(exponent: float, angles: list[float]) -> None:
    stream = Stream(wind_profile(6.0, exponent), np.radians(45.0), 3.0, 0.0, 0.0)
    assert np.degrees(stream.apparent(HEIGHT)[1]) == pytest.approx(angles, abs=0.01)


@pytest.mark.source(
    work=ARITHMETIC,
    where="the same in a logarithmic profile with roughness 0.1 mm",
    tolerance="abs 0.01 degree: two decimals",
)
def test_apparent_angle_upwind_in_the_logarithmic_profile() -> None:
    roughness = 1e-4
    profile = WindProfile(6.0, 0.4 * 6.0 / np.log(10.0 / roughness), roughness)
    stream = Stream(profile, np.radians(45.0), 3.0, 0.0, 0.0)
    found = np.degrees(stream.apparent(HEIGHT)[1])
    assert found == pytest.approx([28.76, 29.71, 30.36, 30.72], abs=0.01)


@pytest.mark.source(
    work=ARITHMETIC,
    where="speeds of the same upwind case, 0.14: 7.229, 7.858, 8.394, 8.733 m/s",
    tolerance="abs 0.001 m/s: three decimals",
)
def test_apparent_speed_upwind_by_height() -> None:
    stream = Stream(wind_profile(6.0, 0.14), np.radians(45.0), 3.0, 0.0, 0.0)
    found = stream.apparent(HEIGHT)[0]
    assert found == pytest.approx([7.229, 7.858, 8.394, 8.733], abs=1e-3)


@pytest.mark.source(
    work=ARITHMETIC,
    where="broad reach in light air: true wind 4 m/s at 140 degrees, boat 2.5 m/s, 0.14: 88.49, "
    "96.86, 102.38, 105.27 degrees",
    tolerance="abs 0.01 degree: two decimals",
)
def test_apparent_wind_turns_by_17_degrees_on_a_broad_reach() -> None:
    stream = Stream(wind_profile(4.0, 0.14), np.radians(140.0), 2.5, 0.0, 0.0)
    found = np.degrees(stream.apparent(HEIGHT)[1])
    assert found == pytest.approx([88.49, 96.86, 102.38, 105.27], abs=0.01)


@pytest.mark.source(
    work=ARITHMETIC,
    where="true wind from a sensor's apparent wind and back",
    tolerance="abs 1e-6",
)
@pytest.mark.parametrize("angle_deg", [25.0, 60.0, 110.0, 160.0])
def test_the_wind_that_a_sensor_reads_is_found_again(angle_deg: float) -> None:
    stream = from_apparent(9.0, np.radians(angle_deg), 14.0, 3.0, 0.06, 0.2)
    speed, angle = stream.apparent(np.array([14.0]))
    assert speed[0] == pytest.approx(9.0, abs=1e-6)
    assert np.degrees(angle[0]) == pytest.approx(angle_deg, abs=1e-6)
