"""A fin's lift is odd, smooth and limited; its drag is even and never negative."""

from __future__ import annotations

import math

import numpy as np
import pytest

from luffwright.water.fluid import Water
from luffwright.water.foil import (
    GREATEST_LIFT,
    Foil,
    attached_lift,
    attached_share,
    foil_force,
    induced_drag_coefficient,
    lift_coefficient,
    stall_angle,
)

KEEL = Foil(1.2, 1.8, 1.1, math.radians(25.0), 0.12, -0.2, 0.55)
RUDDER = Foil(1.3, 0.6, 0.4, math.radians(5.0), 0.14, -5.0, 0.15)
ANGLES = np.radians(np.linspace(-60.0, 60.0, 2401))


@pytest.mark.parametrize("foil", [KEEL, RUDDER])
def test_lift_turns_with_the_incidence_and_drag_does_not(foil: Foil) -> None:
    for angle in np.radians([1.0, 7.0, 20.0, 40.0]):
        assert lift_coefficient(foil, -angle) == pytest.approx(-lift_coefficient(foil, angle))
        assert induced_drag_coefficient(foil, -angle) == induced_drag_coefficient(foil, angle) > 0.0


@pytest.mark.parametrize("foil", [KEEL, RUDDER])
def test_lift_has_no_step(foil: Foil) -> None:
    values = np.array([lift_coefficient(foil, angle) for angle in ANGLES])
    assert np.abs(np.diff(values)).max() < 0.01
    assert np.abs(np.diff(values, 2)).max() < 1e-3


@pytest.mark.parametrize("foil", [KEEL, RUDDER])
def test_the_greatest_lift_is_what_such_fins_reach(foil: Foil) -> None:
    """1.0 to 1.3 for faired fins of low aspect ratio: from memory, Whicker and Fehlner 1958."""
    most = max(lift_coefficient(foil, angle) for angle in ANGLES)
    assert 1.0 < most < 1.3


def test_a_short_fin_stalls_later_than_a_long_one() -> None:
    """Common practice: a long keel holds at angles at which a deep fin has let go."""
    assert math.radians(12.0) < stall_angle(RUDDER) < stall_angle(KEEL) < math.radians(35.0)


def test_the_stall_is_where_the_lift_without_it_reaches_its_limit() -> None:
    assert attached_lift(KEEL, stall_angle(KEEL)) == pytest.approx(GREATEST_LIFT)
    assert attached_share(KEEL, 0.0) == pytest.approx(1.0, abs=1e-6)
    assert attached_share(KEEL, math.radians(60.0)) < 1e-6


def test_forces_grow_with_the_square_of_speed() -> None:
    slow, fast = foil_force(KEEL, 0.08, 2.0), foil_force(KEEL, 0.08, 4.0)
    assert fast.lift == pytest.approx(4.0 * slow.lift)
    assert fast.induced_drag == pytest.approx(4.0 * slow.induced_drag)
    # Friction falls a little with the Reynolds number.
    assert 3.0 < fast.profile_drag / slow.profile_drag < 4.0


def test_the_lift_of_a_cruiser_keel_is_of_the_right_size() -> None:
    """Half rho V^2 A C_L by hand: 1.74 m2, C_L 0.185 at 5 degrees, 3 m/s."""
    assert foil_force(KEEL, math.radians(5.0), 3.0, Water(1000.0, 1e-6)).lift == pytest.approx(
        1450.0, rel=0.05
    )


def test_the_load_acts_at_the_middle_of_an_ellipse_on_the_quarter_chord() -> None:
    x, z = KEEL.centre
    assert z == pytest.approx(-0.55 - 1.2 * 0.4244, abs=1e-3)
    assert x == pytest.approx(-0.2 - 1.2 * 0.4244 * math.tan(math.radians(25.0)), abs=1e-3)
