"""Two hulls that heel: stiffness, energy, lift-off, and what lies beyond."""

from __future__ import annotations

import math

import numpy as np
import pytest

from luffwright.errors import InputError
from luffwright.water.catamaran import (
    SEA_WATER,
    TwoHulls,
    demihull,
    hull_waves,
    lift_off,
    righting_lever,
    two_hulls,
    vanishing_heel,
    working_wind,
)
from luffwright.water.hull import Hull

HULL = Hull("catamaran", 12.2, 11.7, 6.7, 1.35, 0.62, 1.2, 9800.0, 5.2, 5.4, (0.0,), (0.0,))
BOAT = two_hulls(HULL, 1.0)


def test_the_form_carries_half_the_boat() -> None:
    assert demihull(HULL).volume * SEA_WATER == pytest.approx(4900.0, rel=2e-3)
    assert BOAT.waterplane == pytest.approx(demihull(HULL).waterplane)


def test_initial_stiffness_is_that_of_two_waterplanes_far_apart() -> None:
    """Metacentric radius I / V with Steiner's term only, closed form."""
    metacentre = BOAT.waterplane * BOAT.spacing**2 / (4.0 * BOAT.volume)
    heel = 1e-4
    assert righting_lever(BOAT, heel) / heel == pytest.approx(metacentre - 1.0, rel=1e-3)


def test_heel_to_the_other_side_rights_the_other_way() -> None:
    assert righting_lever(BOAT, -0.15) == -righting_lever(BOAT, 0.15)


def test_the_lever_has_no_step_at_lift_off() -> None:
    at = lift_off(BOAT).heel
    assert righting_lever(BOAT, at - 1e-6) == pytest.approx(
        righting_lever(BOAT, at + 1e-6), abs=1e-4
    )


def test_lift_off_is_the_greatest_righting_moment_but_for_a_trifle() -> None:
    found = lift_off(BOAT)
    levers = [righting_lever(BOAT, heel) for heel in np.radians(np.arange(0.0, 90.0, 0.5))]
    assert max(levers) * 9.81 * 9800.0 == pytest.approx(found.moment, rel=3e-3)
    assert righting_lever(BOAT, found.heel) * 9.81 * 9800.0 == pytest.approx(found.moment)


def test_a_flying_hull_leaves_a_pendulum_on_the_other() -> None:
    """Closed form: half the spacing times the cosine less the height times the sine."""
    heel = math.radians(40.0)
    expected = 2.6 * math.cos(heel) - 1.0 * math.sin(heel)
    assert righting_lever(BOAT, heel) == pytest.approx(expected, rel=1e-12)


def test_the_lever_vanishes_when_the_weight_stands_over_the_leeward_hull() -> None:
    assert righting_lever(BOAT, vanishing_heel(BOAT)) == pytest.approx(0.0, abs=1e-12)


def test_the_work_of_heeling_is_the_rise_of_the_weight_less_that_of_the_water() -> None:
    """Energy: a wall-sided pair heeled to lift-off, by hand: draught sinks by as much as it rises.

    With wall-sided hulls the middle stays, so weight W gains z_G (cos φ - 1) and the water
    ρ g A (s/2 sin φ)².
    """
    boat = TwoHulls(2.0 * SEA_WATER * 4.0 * 0.999, 5.0, 4.0 / 0.5, 0.5, 0.8)
    heels = np.linspace(0.0, lift_off(boat).heel, 2001)
    work = np.trapezoid([righting_lever(boat, at) for at in heels], heels)
    last = heels[-1]
    water = SEA_WATER * boat.waterplane * (2.5 * math.sin(last)) ** 2 / boat.displacement
    assert work == pytest.approx(water + 0.8 * (math.cos(last) - 1.0), rel=5e-3)


def test_a_gustier_wind_calls_for_less_sail() -> None:
    assert working_wind(20.0, 1.2) == working_wind(20.0) == pytest.approx(14.0)
    assert working_wind(20.0, 1.7) == pytest.approx(20.0 / 1.7)


def test_hull_waves_are_worked_out_once() -> None:
    assert hull_waves(HULL) is hull_waves(HULL)


def test_one_hull_is_refused_as_a_catamaran() -> None:
    alone = Hull("monohull", 12.0, 10.5, 3.8, 3.2, 0.5, 2.0, 7000.0, 0.0, 5.0, (0.0,), (0.0,))
    with pytest.raises(InputError, match="give the distance between the hulls' centrelines"):
        demihull(alone)


def test_hulls_that_cannot_lift_are_refused() -> None:
    with pytest.raises(InputError, match="must exceed the height a hull has to rise"):
        lift_off(TwoHulls(9800.0, 1.0, 11.0, 0.62, 1.0))
