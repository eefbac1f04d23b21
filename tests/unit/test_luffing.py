"""Cloth on the wrong side of the wind: it carries nothing, then it backs, without a jump."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.luffing import carried, cloth_drag, cloth_drag_slopes, cloth_ratios
from luffwright.air.nose import nose_holds
from luffwright.air.stall import drag_coefficients, lift_ratios

SWEEP = np.linspace(-0.9, 0.9, 1801)
BELLY = np.full_like(SWEEP, 0.3)


def loads() -> np.ndarray:
    """Return the lift coefficient over 2 pi at each incidence of the sweep."""
    return np.asarray(cloth_ratios(SWEEP, BELLY)[0] * (SWEEP + 0.5 * BELLY))


def test_a_belly_that_the_wind_fills_is_left_to_the_stall_law() -> None:
    full = SWEEP > -0.1
    facing, belly = SWEEP[full], BELLY[full]
    assert np.allclose(cloth_ratios(facing, belly)[0], lift_ratios(facing, belly)[0])
    attached = 2.0 * np.pi * (facing + 0.5 * belly)
    whole = drag_coefficients(facing, belly, attached)
    assert np.allclose(cloth_drag(facing, belly, attached), whole)


def test_luffing_cloth_carries_next_to_nothing_against_its_belly() -> None:
    luffs = (SWEEP < -0.15) & (SWEEP > -0.25)
    assert np.abs(2.0 * np.pi * loads()[luffs]).max() < 0.04


def test_far_on_the_wrong_side_it_is_pressed_back_like_any_plate() -> None:
    ratio = cloth_ratios(np.array([-0.8]), np.array([0.3]))[0]
    assert ratio == pytest.approx(lift_ratios(np.array([0.8]), np.array([0.3]))[0])


def test_the_load_has_no_jump() -> None:
    assert np.abs(np.diff(loads())).max() < 2e-3


def test_the_slopes_are_those_of_the_ratio_and_of_the_drag() -> None:
    step = 1e-5
    _, by_facing, by_camber = cloth_ratios(SWEEP, BELLY)
    ahead, behind = (cloth_ratios(SWEEP + s, BELLY)[0] for s in (step, -step))
    assert np.allclose((ahead - behind) / (2 * step), by_facing, atol=5e-3)
    ahead, behind = (cloth_ratios(SWEEP, BELLY + s)[0] for s in (step, -step))
    assert np.allclose((ahead - behind) / (2 * step), by_camber, atol=5e-3)


@pytest.mark.parametrize("radius", [0.0, 0.0037])
def test_the_slopes_of_the_drag_are_its_derivatives(radius: float) -> None:
    nose, lift = nose_holds(np.full_like(SWEEP, radius)), 2.0 * np.pi * SWEEP + 1.4
    step = 1e-4
    for k, slope in enumerate(cloth_drag_slopes(SWEEP, BELLY, lift, nose)):
        turn = [step * (k == n) for n in range(3)]
        ahead, behind = (
            cloth_drag(SWEEP + s * turn[0], BELLY + s * turn[1], lift + s * turn[2], nose)
            for s in (1.0, -1.0)
        )
        assert slope == pytest.approx((ahead - behind) / (2 * step), abs=0.03)


def test_cloth_lets_go_as_the_load_turns_against_its_belly() -> None:
    share, slope = carried(np.array([0.0, -0.15, -0.3]), np.array([0.3, 0.3, 0.3]))
    assert share[0] == pytest.approx(1.0)
    assert share[0] > share[1] > share[2] > 0.0
    assert slope[1] > 0.0
