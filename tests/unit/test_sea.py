"""Words, limits and continuity of the sea."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from luffwright.errors import InputError
from luffwright.water.sea import (
    SEA_HEIGHTS,
    Sea,
    named_sea,
    sea_of_height,
    spectrum,
    wave_number,
    wind_sea,
)


def test_the_words_go_up_in_height_and_in_period() -> None:
    seas = [named_sea(word, 8.0) for word in SEA_HEIGHTS]
    for lower, higher in itertools.pairwise(seas):
        assert lower.height < higher.height
        assert lower.period < higher.period


def test_a_stronger_wind_raises_the_same_height_in_shorter_waves() -> None:
    assert sea_of_height(1.2, 14.0).period < sea_of_height(1.2, 8.0).period


def test_a_light_wind_over_an_old_sea_leaves_its_period() -> None:
    assert sea_of_height(1.2, 2.0).period == sea_of_height(1.2, 4.0).period


def test_the_period_does_not_jump_where_the_wind_is_just_enough() -> None:
    least = math.sqrt(9.81 * 1.2 / 0.243)
    below, above = sea_of_height(1.2, least - 1e-6), sea_of_height(1.2, least + 1e-6)
    # The two printed caps differ by 0.13 %.
    assert below.period == pytest.approx(above.period, rel=2e-3)


def test_waves_are_no_steeper_than_they_can_stand() -> None:
    """Stokes: a wave breaks at a height of 1/7 of its length."""
    for height, wind in itertools.product((0.1, 0.5, 1.2, 2.5), (4.0, 8.0, 14.0)):
        sea = sea_of_height(height, wind)
        assert height * sea.peak**2 / (2.0 * math.pi * 9.81) < 1.0 / 7.0


def test_a_calm_has_a_sea_of_no_height() -> None:
    calm = sea_of_height(0.0, 0.0)
    assert calm.height == 0.0
    assert np.all(spectrum(calm, np.array([1.0, 2.0, 30.0])) == 0.0)
    assert wind_sea(8.0, 0.0).height == 0.0


def test_no_wind_raises_no_sea_and_says_so() -> None:
    with pytest.raises(InputError, match="to raise a sea"):
        wind_sea(0.0, 1000.0)


def test_a_negative_height_is_refused() -> None:
    with pytest.raises(InputError, match=r"wave_height_m = -1\.0"):
        sea_of_height(-1.0, 8.0)


def test_the_spectrum_peaks_at_the_seas_period() -> None:
    frequency = np.linspace(0.5, 4.0, 3501)
    sea = Sea(1.0, 4.0)
    assert frequency[spectrum(sea, frequency).argmax()] == pytest.approx(sea.peak, abs=1e-3)


def test_very_deep_water_is_deep_water() -> None:
    assert wave_number(1.5, 1e4) == wave_number(1.5)
    assert wave_number(1.5, 60.0) == pytest.approx(wave_number(1.5), rel=1e-6)
