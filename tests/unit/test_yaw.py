"""Turning moments and helm: signs, statics by hand, band, anchor, and facts of the trade."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from luffwright.aboard.boat import load_boat
from luffwright.frames import to_level
from luffwright.water.hull import Hull
from luffwright.water.side_force import Sailing, side_force
from luffwright.water.yaw import (
    ANCHORED_BAND,
    HELM_BAND,
    Applied,
    Helm,
    anchor_of,
    applied_yaw,
    helm,
    hull_yaw,
    spheroid_inertia,
    yaw_moments,
)

MARRAM = load_boat("marram").hull
EIDER = load_boat("eider").hull
UPWIND = Sailing(3.0, math.radians(18.0), math.radians(4.5), 0.0)


def sails(heel_deg: float, x: float = 0.2, height: float = 6.0) -> list[Applied]:
    """Return one force of sails that leans with the boat: 750 N ahead, 2500 N across the mast."""
    heel = math.radians(heel_deg)
    force = to_level(np.array([750.0, 2500.0, 0.0]), heel)
    place = to_level(np.array([x, 0.3, height]), heel)
    return [Applied(tuple(force), tuple(place))]


def helm_deg(found: Helm) -> float:
    """Return the rudder angle in degrees."""
    return math.degrees(found.rudder)


def test_the_moment_of_forces_is_the_vertical_part_of_the_vector_product() -> None:
    """Against NumPy's cross product."""
    entries = [*sails(20.0), Applied((-80.0, 40.0, -3.0), (1.4, -0.6, 0.5))]
    whole = sum(np.cross(entry.point, entry.force)[2] for entry in entries)
    assert applied_yaw(entries) == pytest.approx(whole)


def test_the_found_rudder_leaves_no_moment() -> None:
    found = helm(MARRAM, UPWIND, sails(18.0))
    moments = yaw_moments(MARRAM, replace(UPWIND, rudder=found.rudder), sails(18.0))
    assert found.status == "balanced"
    assert abs(moments.total) < 1e-3
    assert moments.total == pytest.approx(found.moments.total, abs=1e-9)


def test_more_rudder_bears_off() -> None:
    found = helm(MARRAM, UPWIND, sails(18.0))
    step = math.radians(1.0)
    fins = [
        side_force(MARRAM, replace(UPWIND, rudder=found.rudder + way * step)).moment[2]
        for way in (-1.0, 1.0)
    ]
    assert found.per_rudder > 0.0
    assert found.per_rudder == pytest.approx((fins[1] - fins[0]) / (2.0 * step), rel=0.01)


def test_the_mirrored_boat_has_the_mirrored_helm() -> None:
    entries = [
        Applied(
            (entry.force[0], -entry.force[1], entry.force[2]),
            (entry.point[0], -entry.point[1], entry.point[2]),
        )
        for entry in sails(18.0)
    ]
    other = helm(MARRAM, Sailing(3.0, -UPWIND.heel, -UPWIND.leeway, 0.0), entries)
    assert other.rudder == pytest.approx(-helm(MARRAM, UPWIND, sails(18.0)).rudder, abs=1e-6)


def test_heel_brings_weather_helm() -> None:
    """Common practice: the more she heels, the more she rounds up."""
    found = [
        helm_deg(helm(MARRAM, replace(UPWIND, heel=math.radians(heel)), sails(heel)))
        for heel in (5.0, 15.0, 25.0)
    ]
    assert found == sorted(found)
    assert found[-1] - found[0] > 1.0


def test_sail_area_moved_aft_brings_weather_helm() -> None:
    """Common practice: mainsail makes weather helm, headsail lee helm."""
    ahead, aft = (helm(MARRAM, UPWIND, sails(18.0, x=x)) for x in (0.6, -0.4))
    assert helm_deg(aft) - helm_deg(ahead) > 2.0


def test_a_keel_moved_forward_brings_weather_helm() -> None:
    """Common practice."""
    assert MARRAM.keel is not None
    forward = replace(MARRAM, keel=replace(MARRAM.keel, x_position=MARRAM.keel.x_position + 0.3))
    change = helm_deg(helm(forward, UPWIND, sails(18.0)))
    assert change > helm_deg(helm(MARRAM, UPWIND, sails(18.0)))


def test_drive_at_the_heeled_lever_rounds_her_up() -> None:
    """By hand: 750 N at 6 m of mast leaning 30 degrees is 750 x 3 m to windward."""
    heel = math.radians(30.0)
    drive = Applied((750.0, 0.0, 0.0), tuple(to_level(np.array([0.0, 0.0, 6.0]), heel)))
    assert applied_yaw([drive]) == pytest.approx(-2250.0)


@pytest.mark.parametrize("hull", [MARRAM, EIDER], ids=["one hull", "two hulls"])
def test_leeway_makes_the_hull_round_up(hull: Hull) -> None:
    assert hull_yaw(hull, UPWIND) < 0.0
    assert hull_yaw(hull, replace(UPWIND, leeway=0.0)) == 0.0


def test_the_hulls_moment_grows_with_speed_squared() -> None:
    fast = hull_yaw(EIDER, replace(UPWIND, speed=2.0 * UPWIND.speed))
    assert fast == pytest.approx(4.0 * hull_yaw(EIDER, UPWIND))


def test_a_long_spheroid_carries_all_its_water_across_and_none_along() -> None:
    along, across = spheroid_inertia(200.0)
    assert along == pytest.approx(0.0, abs=1e-3)
    assert across == pytest.approx(1.0, abs=1e-3)


def test_the_band_is_four_degrees_and_narrower_once_the_helm_was_seen() -> None:
    free = helm(MARRAM, UPWIND, sails(18.0))
    assert free.high - free.rudder == pytest.approx(HELM_BAND)
    assert free.rudder - free.low == pytest.approx(math.radians(4.0))
    seen = math.radians(5.0)
    held = helm(MARRAM, UPWIND, sails(18.0), anchor_of(seen, free.computed))
    assert held.rudder == pytest.approx(seen)
    assert held.high - held.rudder == pytest.approx(ANCHORED_BAND)
    assert held.computed == free.computed


def test_an_anchor_moves_every_helm_and_no_difference() -> None:
    anchor = anchor_of(math.radians(5.0), helm(MARRAM, UPWIND, sails(18.0)).computed)
    free = [helm(MARRAM, UPWIND, sails(18.0, x=x)).rudder for x in (0.0, 0.4)]
    held = [helm(MARRAM, UPWIND, sails(18.0, x=x), anchor).rudder for x in (0.0, 0.4)]
    assert held[1] - held[0] == pytest.approx(free[1] - free[0])


def test_sails_far_aft_are_more_than_the_rudder_can_hold() -> None:
    found = helm(MARRAM, UPWIND, sails(18.0, x=-8.0))
    assert found.status == "rudder too small"
    assert found.moments.total < 0.0
    assert math.degrees(found.rudder) > 10.0
