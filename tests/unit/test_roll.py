"""The roll on the foil: what a turn takes, with and without a padded luff."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from luffwright.sails.roll import (
    FOIL_RADIUS,
    PAD_WIDTH,
    roll_radius,
    thickness,
    turns_for,
    wound_strip,
    wound_up,
)

LAYER = 0.0004


def rolled_turn_by_turn(turns: float, pad: float) -> float:
    """Return the cloth of a spiral that grows by the layer under the last one in each turn."""

    def grow(_: float, state: np.ndarray) -> list[float]:
        radius, wound = state
        return [LAYER + (pad if wound < PAD_WIDTH else 0.0), 2.0 * np.pi * radius]

    found = solve_ivp(grow, (0.0, turns), [FOIL_RADIUS, 0.0], max_step=0.005)
    return float(found.y[1, -1])


def test_the_roll_s_section_is_the_foil_s_and_the_cloth_s() -> None:
    radius = roll_radius(1.7, LAYER)
    assert np.pi * (radius**2 - FOIL_RADIUS**2) == pytest.approx(1.7 * LAYER)


@pytest.mark.parametrize("wound", [0.05, 0.8, 2.5])
def test_the_turns_for_a_length_wind_up_that_length(wound: float) -> None:
    taken = wound_up(turns_for(wound, LAYER), LAYER, np.zeros(3))
    assert taken == pytest.approx(wound)


@pytest.mark.parametrize("turns", [1.5, 6.0, 14.0])
@pytest.mark.parametrize("pad", [0.0, 0.0005, 0.002])
def test_cloth_and_pad_wind_up_as_a_spiral_does(turns: float, pad: float) -> None:
    found = wound_up(turns, LAYER, np.array([pad]))[0]
    assert found == pytest.approx(rolled_turn_by_turn(turns, pad), rel=2e-3)


def test_the_pad_takes_more_in_the_middle_of_what_is_left_and_nothing_at_its_ends() -> None:
    taken = wound_strip(1.7, 0.285, 0.001, np.array([0.0, 0.2, 0.375, 0.55, 0.75, 1.0]))
    assert taken[[0, 4, 5]] == pytest.approx(1.7)
    assert taken[1] == pytest.approx(taken[3])
    assert taken[2] > taken[1] > 1.7


def test_heavier_cloth_lies_thicker() -> None:
    assert thickness(0.4) == pytest.approx(2.0 * thickness(0.2))
