"""Wind over the water: limits of the profile."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.wind import GRAVITY, KARMAN, VISCOSITY, wind_at, wind_profile


@pytest.mark.parametrize("speed", [1.0, 6.0, 14.0, 25.0])
def test_the_wind_at_ten_metres_is_the_one_given(speed: float) -> None:
    assert wind_at(wind_profile(speed), np.array([10.0])) == pytest.approx([speed])


@pytest.mark.parametrize("speed", [2.0, 8.0, 20.0])
def test_roughness_and_friction_agree(speed: float) -> None:
    """Charnock's relation with the smooth-flow term, put back in."""
    profile = wind_profile(speed)
    again = 0.011 * profile.friction**2 / GRAVITY + 0.11 * VISCOSITY / profile.friction
    assert profile.roughness == pytest.approx(again, rel=1e-9)


def test_equal_ratios_of_height_add_equal_wind() -> None:
    """The logarithm: from 1 to 4 m the wind gains as much as from 4 to 16 m, u* ln 4 / kappa."""
    profile = wind_profile(9.0)
    low, middle, high = wind_at(profile, np.array([1.0, 4.0, 16.0]))
    assert middle - low == pytest.approx(profile.friction / KARMAN * np.log(4.0))
    assert high - middle == pytest.approx(middle - low)


def test_a_light_wind_is_flatter_than_a_strong_one() -> None:
    shares = [wind_at(wind_profile(speed), np.array([2.0]))[0] / speed for speed in (5.0, 15.0)]
    assert shares[0] > shares[1]


def test_a_calm_has_a_profile_without_failing() -> None:
    assert np.all(np.isfinite(wind_at(wind_profile(0.0), np.array([0.0, 5.0]))))
