"""The sea: its words and limits, what it costs, and how it swings the wind over a boat."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.errors import InputError
from luffwright.water.hull import Hull
from luffwright.water.sea import (
    SEA_HEIGHTS,
    Sea,
    named_sea,
    sea_of_height,
    spectrum,
    wave_number,
    wind_sea,
)
from luffwright.water.waves import added_resistance
from luffwright.water.waves_motion import Turbulence, incidence_swing, motion_rates


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


CAT = Hull("catamaran", 12.2, 11.7, 6.7, 1.35, 0.62, 1.2, 9800.0, 5.2, 5.4, (0.0,), (0.0,))
MONO = Hull("monohull", 11.5, 10.0, 3.6, 3.0, 0.5, 1.9, 7000.0, 0.0, 5.0, (0.0,), (0.0,))
HEIGHTS = np.array([4.0, 8.0, 12.0, 16.0])


def stream(wind: float = 7.0, angle_deg: float = 45.0, speed: float = 3.0) -> Stream:
    """Return a boat's wind."""
    return Stream(wind_profile(wind), math.radians(angle_deg), speed, 0.05, 0.2)


def test_over_no_waves_only_gusts_swing_the_wind() -> None:
    swing = incidence_swing(HEIGHTS, stream(), Sea(0.0, 1.0), MONO)
    assert np.all(swing.wave_incidence == 0.0)
    assert np.all(swing.incidence > 0.0)


def test_in_dead_air_and_flat_water_nothing_swings() -> None:
    still = incidence_swing(HEIGHTS, stream(), Sea(0.0, 1.0), MONO, turbulence=Turbulence(0.0, 0.0))
    assert np.all(still.incidence == 0.0)
    assert np.all(still.speed == 0.0)


@pytest.mark.parametrize("boat", [MONO, CAT])
def test_waves_swing_the_masthead_most(boat: Hull) -> None:
    swing = incidence_swing(HEIGHTS, stream(), Sea(1.2, 5.5), boat)
    assert np.all(np.diff(swing.wave_incidence) > 0.0)
    assert np.all(np.diff(swing.speed) > 0.0)


def test_gusts_and_waves_add_as_independent_causes() -> None:
    quiet = Turbulence(0.0, 0.0)
    sea = Sea(0.8, 4.0)
    both = np.tan(incidence_swing(HEIGHTS, stream(), sea, MONO).incidence)
    waves = np.tan(incidence_swing(HEIGHTS, stream(), sea, MONO, turbulence=quiet).incidence)
    gusts = np.tan(incidence_swing(HEIGHTS, stream(), Sea(0.0, 4.0), MONO).incidence)
    assert both**2 == pytest.approx(waves**2 + gusts**2)


def test_far_up_the_swing_is_the_rate_times_the_height() -> None:
    sea, wind = Sea(0.8, 4.0), Stream(wind_profile(7.0), 0.0, 2.0, 0.0, 0.0)
    high = np.array([1e5])
    swing = incidence_swing(high, wind, sea, MONO, turbulence=Turbulence(0.0, 0.0))
    assert swing.speed[0] / 1e5 == pytest.approx(motion_rates(sea, MONO, 2.0, 0.0).pitch, rel=1e-3)


def test_waves_from_the_mirrored_side_swing_as_much_over_a_boat_with_the_wind_ahead() -> None:
    wind = Stream(wind_profile(7.0), 0.0, 2.0, 0.0, 0.0)
    starboard = incidence_swing(HEIGHTS, wind, Sea(0.8, 4.0), MONO, wave_angle=0.7)
    port = incidence_swing(HEIGHTS, wind, Sea(0.8, 4.0), MONO, wave_angle=-0.7)
    assert starboard.incidence == pytest.approx(port.incidence)
    assert starboard.speed == pytest.approx(port.speed)


def test_a_head_sea_pitches_and_a_beam_sea_rolls() -> None:
    ahead, abeam = (motion_rates(Sea(0.8, 4.0), MONO, 2.0, at) for at in (0.0, 0.5 * math.pi))
    assert ahead.roll == 0.0
    assert abeam.pitch == pytest.approx(0.0, abs=1e-12)
    assert ahead.pitch > 0.0
    assert abeam.roll > 0.0


def test_running_from_the_sea_is_gentler_than_beating_into_it() -> None:
    ahead, astern = (motion_rates(Sea(0.8, 4.0), MONO, 3.0, at).pitch for at in (0.0, math.pi))
    assert astern < 0.5 * ahead


def test_two_hulls_on_two_crests_do_not_roll() -> None:
    """Waves from abeam as long as the hulls stand apart lift both alike."""
    k = 2.0 * math.pi / CAT.hull_spacing
    narrow = motion_rates(Sea(0.1, 2.0 * math.pi / math.sqrt(9.81 * k)), CAT, 0.0, 0.5 * math.pi)
    long = motion_rates(Sea(0.1, 3.0), CAT, 0.0, 0.5 * math.pi)
    assert narrow.roll < long.roll


def test_the_estimate_of_added_resistance_says_its_band() -> None:
    found = added_resistance(Sea(0.8, 4.0), CAT, 0.8)
    assert found.low < found.resistance < found.high
