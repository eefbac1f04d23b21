"""First estimates of speed, heel and leeway against closed forms and what is usual."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.water.estimate import first_heel, first_leeway, first_speed, righting_moment
from luffwright.water.hull import Hull

GRAVITY = 9.81
MARRAM, EIDER = load_boat("marram").hull, load_boat("eider").hull
HEIGHT_OF_METACENTRE = 0.9


def upright(displacement: float) -> Hull:
    """Return a hull whose righting lever grows evenly with the heel."""
    heels = (0.0, 1.0)
    return replace(
        MARRAM, displacement=displacement, righting_heel=heels,
        righting_lever=tuple(HEIGHT_OF_METACENTRE * heel for heel in heels),
    )  # fmt: skip


def test_the_righting_moment_is_weight_times_lever() -> None:
    found = righting_moment(upright(4000.0), 0.2)
    assert found == pytest.approx(4000.0 * GRAVITY * HEIGHT_OF_METACENTRE * 0.2)


@pytest.mark.parametrize("angle_deg", [60.0, 90.0, 120.0])
def test_a_strong_wind_brings_a_monohull_to_her_hull_speed(angle_deg: float) -> None:
    """1.34 times the root of the waterline in feet, in knots: common practice."""
    feet = MARRAM.length_waterline / 0.3048
    knots = first_speed(MARRAM, 15.0, math.radians(angle_deg)) * 3600.0 / 1852.0
    assert knots == pytest.approx(1.34 * math.sqrt(feet), rel=0.1)


def test_more_wind_never_slows_the_boat() -> None:
    speeds = [first_speed(EIDER, float(wind), math.radians(60.0)) for wind in range(20)]
    assert speeds[0] == 0.0
    assert np.all(np.diff(speeds) > 0.0)


def test_leeway_close_hauled_is_usual_and_gone_on_the_run() -> None:
    """2 to 7 degrees close-hauled: common practice."""
    assert 2.0 < math.degrees(first_leeway(math.radians(45.0))) < 7.0
    assert first_leeway(math.pi) == pytest.approx(0.0, abs=1e-12)


def test_a_little_heel_is_push_over_stiffness() -> None:
    """For a small angle the heel is the heeling moment over weight times metacentric height."""
    hull, area, height, wind = upright(50_000.0), 40.0, 6.0, 6.0
    moment = 0.5 * 1.225 * wind**2 * area * 1.2 * height * math.cos(math.radians(30.0))
    expected = moment / (hull.displacement * GRAVITY * HEIGHT_OF_METACENTRE)
    found = first_heel(hull, area, height, wind, math.radians(30.0))
    # Found on 200 angles up to 25 degrees.
    assert found == pytest.approx(expected, abs=math.radians(25.0) / 199)


def test_there_is_no_heel_in_a_calm_and_never_more_than_the_boat_can_bear() -> None:
    assert first_heel(MARRAM, 60.0, 6.0, 0.0, 0.5) == 0.0
    assert math.degrees(first_heel(MARRAM, 60.0, 6.0, 40.0, 0.5)) == pytest.approx(25.0)
    greatest = EIDER.righting_heel[int(np.argmax(EIDER.righting_lever))]
    assert first_heel(EIDER, 90.0, 8.0, 40.0, 0.5) == pytest.approx(greatest)


@pytest.mark.parametrize("hull", [MARRAM, EIDER], ids=["one hull", "two hulls"])
def test_more_wind_never_heels_the_boat_less(hull: Hull) -> None:
    heels = [first_heel(hull, 70.0, 6.0, float(wind), math.radians(30.0)) for wind in range(25)]
    assert np.all(np.diff(heels) >= 0.0)
