"""The air that meets the boat: frames and the way back from the apparent wind."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.stream import Stream
from luffwright.air.wind import wind_profile
from luffwright.frames import to_level


def stream(heel: float = 0.3, leeway: float = 0.07) -> Stream:
    return Stream(wind_profile(7.0), np.radians(50.0), 3.0, leeway, heel)


def test_upright_and_without_way_the_wind_is_the_true_wind() -> None:
    still = Stream(wind_profile(7.0), np.radians(50.0), 0.0, 0.0, 0.0)
    speed, angle = still.apparent(np.array([10.0]))
    assert speed == pytest.approx([7.0])
    assert np.degrees(angle) == pytest.approx([50.0])


def test_the_wind_comes_over_the_starboard_side_and_blows_to_port() -> None:
    assert stream().level(np.array([10.0]))[0, 1] > 0.0


def test_a_wind_on_the_beam_makes_a_triangle_of_three_four_five() -> None:
    reach = Stream(wind_profile(4.0), np.pi / 2, 3.0, 0.0, 0.0)
    speed, angle = reach.apparent(np.array([10.0]))
    assert speed == pytest.approx([5.0])
    assert np.tan(angle) == pytest.approx([4.0 / 3.0])


@pytest.mark.parametrize("heel", [0.0, 0.2, 0.5])
def test_the_boats_frame_sees_the_wind_of_the_level_height(heel: float) -> None:
    point = np.array([[1.0, 0.5, 9.0]])
    height = to_level(point, heel)[:, 2]
    there = stream(heel)
    assert to_level(there(point), heel) == pytest.approx(there.level(height))
    assert point @ there.up == pytest.approx(height)


def test_leeway_turns_the_apparent_wind_ahead() -> None:
    """A boat drifting to leeward runs away from the wind's sideways part."""
    level = np.array([10.0])
    assert stream(leeway=0.1).apparent(level)[1][0] < stream(leeway=0.0).apparent(level)[1][0]
