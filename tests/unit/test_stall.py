"""The section's stall: limits and slopes of the laws it is made of."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.stall import (
    LEECH_SEPARATED,
    LEEWARD_STALLS,
    drag_coefficients,
    lift_ratios,
    plate_force,
    separation,
)

SWEEP = np.linspace(-0.3, 1.0, 261)


def test_separation_stays_on_the_chord() -> None:
    assert np.all(separation(SWEEP) > 0.0)
    assert np.all(separation(SWEEP) <= 1.0)


def test_separation_walks_forward_with_the_incidence() -> None:
    assert np.all(np.diff(separation(np.linspace(0.02, 1.0, 99))) < 0.0)


def test_a_luffing_strip_loses_its_lift() -> None:
    found = lift_ratios(np.array([0.0, -0.05, -0.1, -0.2]))[0]
    assert np.all(np.diff(found) < 0.0)


def test_kirchhoffs_lift_at_full_separation_is_a_quarter() -> None:
    """((1 + sqrt f) / 2) squared is 1/4 at f = 0: Kirchhoff's plate, 2 pi a to pi a / 2."""
    point = separation(np.array([0.2]))
    ratio = lift_ratios(np.array([0.2]))[0]
    assert ratio == pytest.approx((0.5 * (1.0 + np.sqrt(point))) ** 2, rel=1e-6)


def test_the_slope_of_the_lift_ratio_is_its_derivative() -> None:
    step = 1e-4
    ahead, behind = lift_ratios(SWEEP + step)[0], lift_ratios(SWEEP - step)[0]
    assert lift_ratios(SWEEP)[1] == pytest.approx((ahead - behind) / (2 * step), abs=0.02)


def test_a_plate_square_to_the_wind_has_the_drag_of_a_sail_shaped_plate() -> None:
    """Hoerner, Fluid-Dynamic Drag, 1965, chapter 3: about 1.2 for low aspect (from memory)."""
    assert plate_force(np.array([1.0])) == pytest.approx([1.2], abs=0.01)


def test_drag_never_falls_under_the_skin_friction() -> None:
    assert drag_coefficients(SWEEP, ARCHED_PLATE, np.ones_like(SWEEP)).min() >= 0.009


def test_the_leech_separates_later_than_the_luff_telltale_stalls_begins() -> None:
    """With growing incidence the leeward tuft goes first at the luff's limit, then the leech."""
    limit = separation(np.array([LEEWARD_STALLS]))[0]
    assert separation(np.array([0.0]))[0] > LEECH_SEPARATED > separation(np.array([0.14]))[0]
    assert abs(limit - LEECH_SEPARATED) < 0.1
