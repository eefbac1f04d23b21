"""Waves of slender hulls over speed: smooth, symmetric, and refused where hulls are not thin."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.errors import InputError
from luffwright.water.thin_ship import slender_form, wave_resistance, wigley_form
from luffwright.water.thin_ship_table import FASTEST, STILL, thin_ship_table

FORM = slender_form(11.7, 1.35, 0.62, 0.488)
TABLE = thin_ship_table(FORM, 5.2)
SCALE = float(np.sqrt(9.81 * 11.7))


@pytest.mark.parametrize("speed", [1.5, 2.2, 3.0, 4.4, 5.1, 7.7, 12.0])
def test_the_curve_meets_the_integral_between_its_points(speed: float) -> None:
    apart = wave_resistance(FORM, 5.2, speed)
    found = TABLE.drag(speed)
    assert found.resistance == pytest.approx(apart.resistance, rel=2e-4)
    assert found.interference == pytest.approx(apart.interference, abs=2e-4)


@pytest.mark.parametrize("speed", [1.2, 1.9, 4.0, 9.0, 14.0, -3.0])
def test_the_slope_is_that_of_the_resistance(speed: float) -> None:
    step = 1e-4
    rise = TABLE.drag(speed + step).resistance - TABLE.drag(speed - step).resistance
    assert TABLE.drag(speed).slope == pytest.approx(rise / (2.0 * step), rel=2e-4)


@pytest.mark.parametrize("edge", [STILL, FASTEST])
def test_value_and_slope_go_on_smoothly_beyond_the_table(edge: float) -> None:
    inside, outside = TABLE.drag(edge * SCALE - 1e-6), TABLE.drag(edge * SCALE + 1e-6)
    assert inside.resistance == pytest.approx(outside.resistance, rel=1e-5, abs=1e-6)
    assert inside.slope == pytest.approx(outside.slope, rel=1e-4, abs=1e-3)


def test_a_boat_that_lies_still_makes_no_waves() -> None:
    assert TABLE.drag(0.0).resistance == 0.0
    assert TABLE.drag(0.0).slope == 0.0


def test_astern_the_waves_hold_back_as_ahead() -> None:
    assert TABLE.drag(-3.0).resistance == -TABLE.drag(3.0).resistance


def test_faster_than_the_table_is_flagged() -> None:
    assert TABLE.drag(FASTEST * SCALE * 0.99).in_range
    assert not TABLE.drag(FASTEST * SCALE * 1.01).in_range


def test_waves_scale_with_the_cube_of_length_at_one_froude_number() -> None:
    """Froude's law of similitude."""
    small = wave_resistance(wigley_form(1.0, 0.1, 0.06), 0.4, 1.4)
    large = wave_resistance(wigley_form(9.0, 0.9, 0.54), 3.6, 4.2)
    assert large.resistance == pytest.approx(729.0 * small.resistance, rel=1e-9)
    assert large.interference == pytest.approx(small.interference, rel=1e-9)


def test_thin_hulls_make_waves_with_the_square_of_their_beam() -> None:
    """The sources are in proportion to the beam."""
    one = wave_resistance(wigley_form(10.0, 0.5, 0.6), 0.0, 4.0).resistance
    two = wave_resistance(wigley_form(10.0, 1.0, 0.6), 0.0, 4.0).resistance
    assert two == pytest.approx(4.0 * one, rel=1e-9)


def test_hulls_on_one_centreline_make_four_times_the_waves_and_far_ones_twice() -> None:
    form = wigley_form(10.0, 1.0, 0.6)
    alone = wave_resistance(form, 0.0, 4.0).resistance
    assert wave_resistance(form, 1e-6, 4.0).resistance == pytest.approx(4.0 * alone, rel=1e-6)
    assert wave_resistance(form, 60.0, 4.0).resistance == pytest.approx(2.0 * alone, rel=0.05)


def test_a_stout_hull_is_refused_in_words() -> None:
    with pytest.raises(InputError, match=r"beam_waterline_m = 3\.5: must be 0 to 2\.50"):
        slender_form(10.0, 3.5, 0.6, 0.45)


@pytest.mark.parametrize("block", [0.1, 0.9])
def test_a_hull_too_fine_or_too_full_is_refused(block: float) -> None:
    with pytest.raises(InputError, match="check length, beam_waterline"):
        slender_form(10.0, 1.0, 0.6, block)
