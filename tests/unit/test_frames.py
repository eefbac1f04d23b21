"""Axes and signs against SciPy's rotations, a general library, and against plane trigonometry."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from luffwright.frames import air_velocity, apparent, heel_rotation, mirror, to_boat, to_level

heels = st.floats(-1.5, 1.5)
lengths = st.floats(-50.0, 50.0)
places = st.tuples(lengths, lengths, lengths).map(np.array)
winds = st.floats(0.5, 30.0)
speeds = st.floats(0.0, 12.0)
angles = st.floats(0.0, math.pi)
leeways = st.floats(-0.3, 0.3)


@given(heels)
def test_heel_is_a_left_handed_turn_about_the_fore_and_aft_axis(heel: float) -> None:
    assert heel_rotation(heel) == pytest.approx(Rotation.from_euler("x", -heel).as_matrix())


def test_a_boat_heeled_to_leeward_has_its_masthead_to_leeward_and_lower() -> None:
    masthead = to_level(np.array([0.0, 0.0, 10.0]), math.radians(30.0))
    assert masthead == pytest.approx([0.0, 5.0, 10.0 * math.sqrt(3.0) / 2.0])


def test_the_lee_rail_goes_down_and_the_weather_rail_up() -> None:
    rails = to_level(np.array([[0.0, 1.5, 1.0], [0.0, -1.5, 1.0]]), math.radians(20.0))
    assert rails[0, 2] < 1.0 < rails[1, 2]


@given(places, heels)
def test_level_and_back_gives_the_same_place(place: np.ndarray, heel: float) -> None:
    assert to_boat(to_level(place, heel), heel) == pytest.approx(place, abs=1e-12)


@given(places, heels)
def test_the_mirrored_boat_heels_the_other_way(place: np.ndarray, heel: float) -> None:
    assert to_level(mirror(place), -heel) == pytest.approx(mirror(to_level(place, heel)), abs=1e-12)


def test_mirroring_twice_changes_nothing_and_leaves_the_argument_alone() -> None:
    place = np.array([1.0, 2.0, 3.0])
    assert np.array_equal(mirror(mirror(place)), place)
    assert np.array_equal(place, [1.0, 2.0, 3.0])


def test_wind_from_starboard_blows_to_leeward_and_aft() -> None:
    ahead, across, up = air_velocity(8.0, math.radians(45.0), 3.0, 0.05)
    assert ahead < 0.0 < across
    assert up == 0.0


@given(winds, angles, speeds)
def test_without_leeway_the_apparent_wind_closes_a_triangle(
    wind: float, angle: float, speed: float
) -> None:
    # Cosine rule, angle between true wind and speed = pi - angle.
    strength, _ = apparent(wind, angle, speed, 0.0)
    square = wind**2 + speed**2 + 2.0 * wind * speed * math.cos(angle)
    assert strength**2 == pytest.approx(square, abs=1e-9)


@given(winds, st.floats(0.1, 3.0), speeds)
def test_the_apparent_wind_comes_from_further_ahead(
    wind: float, angle: float, speed: float
) -> None:
    assert apparent(wind, angle, speed, 0.0)[1] <= angle + 1e-12


@given(winds, angles, speeds, leeways)
def test_the_true_wind_is_the_apparent_wind_with_the_boats_motion_put_back(
    wind: float, angle: float, speed: float, leeway: float
) -> None:
    # Complex numbers: bow along the real axis, leeward along the imaginary one.
    strength, from_bow = apparent(wind, angle, speed, leeway)
    air = -strength * np.exp(-1j * from_bow)
    assert air + speed * np.exp(1j * leeway) == pytest.approx(-wind * np.exp(-1j * angle), abs=1e-9)


@given(winds, angles, speeds, leeways, heels)
def test_heel_changes_the_direction_of_the_air_not_its_speed(
    wind: float, angle: float, speed: float, leeway: float, heel: float
) -> None:
    air = air_velocity(wind, angle, speed, leeway)
    assert np.linalg.norm(to_boat(air, heel)) == pytest.approx(np.linalg.norm(air))


def test_the_wind_on_the_other_tack_is_the_mirrored_wind() -> None:
    starboard = air_velocity(7.0, 0.8, 3.0, 0.06)
    port = air_velocity(7.0, -0.8, 3.0, -0.06)
    assert port == pytest.approx(mirror(starboard))
