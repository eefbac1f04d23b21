"""The section's stall: limits and slopes of the laws it is made of."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.air.nose import nose_holds
from luffwright.air.stall import (
    ARCHED_PLATE,
    LEECH_SEPARATED,
    drag_coefficients,
    kept_lift,
    lift_ratios,
    plate_force,
    separation,
    wake_drag,
)
from luffwright.air.tufts import leeward_limit
from luffwright.arrays import FloatArray

SWEEP = np.linspace(-0.3, 1.0, 261)


def test_separation_stays_on_the_chord() -> None:
    assert np.all(separation(SWEEP) > 0.0)
    assert np.all(separation(SWEEP) <= 1.0)


def test_separation_walks_forward_with_the_incidence() -> None:
    assert np.all(np.diff(separation(np.linspace(0.03, 0.4, 99))) < 0.0)
    assert separation(np.array(1.0)) == pytest.approx(0.04, abs=1e-3)


def test_separation_walks_forward_with_the_camber_s_load() -> None:
    assert np.all(np.diff(separation(np.array(0.05), np.linspace(0.0, 1.2, 40))) < 0.0)


def test_a_luffing_strip_loses_its_lift() -> None:
    found = lift_ratios(np.array([0.0, -0.05, -0.1, -0.2]), ARCHED_PLATE)[0]
    assert np.all(np.diff(found) < 0.0)


@pytest.mark.parametrize("point", [0.0, 0.3, 0.9, 1.0])
def test_a_plate_keeps_the_lift_of_kirchhoffs_flow(point: float) -> None:
    """((1 + sqrt f) / 2) squared; at f = 0 Kirchhoff's 2 pi a to pi a / 2."""
    assert kept_lift(np.array(point))[0] == pytest.approx(((1.0 + point**0.5) / 2.0) ** 2)


def free_streamlines(point: float, slope: FloatArray, place: FloatArray) -> tuple[float, float]:
    """Return lift over 2 pi and root of drag over 2 pi of a slope given in the root of x.

    Plane of the root of x, section from -1 to sqrt f, dead air before and behind it at the stream's
    pressure; the flow's 1/z and 1/sqrt z far away, by the trapezium over the section's angle.
    """
    middle = 0.5 * (np.sqrt(point) - 1.0)
    first, second = np.mean(slope * place), np.mean(slope * place**2)
    return float(-2.0 * (second - middle * first)), float(first)


@pytest.mark.parametrize("point", [0.1, 0.5, 0.8, 0.95, 1.0])
def test_a_separated_arc_keeps_the_lift_and_feels_the_drag_of_free_streamlines(
    point: float,
) -> None:
    """Closed forms against quadrature of the linear free-streamline problem."""
    angle = (np.arange(200) + 0.5) * np.pi / 200
    place = 0.5 * (np.sqrt(point) - 1.0) + 0.5 * (np.sqrt(point) + 1.0) * np.cos(angle)
    lift, root = free_streamlines(point, 1.0 - 2.0 * place**2, place)
    assert kept_lift(np.array(point))[1] == pytest.approx(2.0 * lift, abs=1e-9)
    drag = float(wake_drag(np.array(point), np.array(1.0)))
    assert drag == pytest.approx(2.0 * np.pi * root**2, abs=1e-9)
    plate, _ = free_streamlines(point, -np.ones_like(place), place)
    assert kept_lift(np.array(point))[0] == pytest.approx(plate, abs=1e-9)


@pytest.mark.parametrize("camber", [0.0, 0.2, 0.6, -0.3])
def test_the_slopes_of_the_lift_ratio_are_its_derivatives(camber: float) -> None:
    step, load = 1e-4, np.full_like(SWEEP, camber)
    _, by_incidence, by_camber = lift_ratios(SWEEP, load)
    ahead, behind = lift_ratios(SWEEP + step, load)[0], lift_ratios(SWEEP - step, load)[0]
    assert by_incidence == pytest.approx((ahead - behind) / (2 * step), abs=0.02)
    ahead, behind = lift_ratios(SWEEP, load + step)[0], lift_ratios(SWEEP, load - step)[0]
    assert by_camber == pytest.approx((ahead - behind) / (2 * step), abs=0.02)


def test_a_plate_square_to_the_wind_has_the_drag_of_a_sail_shaped_plate() -> None:
    """Hoerner, Fluid-Dynamic Drag, 1965, chapter 3: about 1.2 for low aspect (from memory)."""
    assert plate_force(np.array([1.0])) == pytest.approx([1.2], abs=0.01)


def test_drag_never_falls_under_the_skin_friction() -> None:
    assert drag_coefficients(SWEEP, ARCHED_PLATE, np.ones_like(SWEEP)).min() >= 0.009


def test_a_shallow_leech_separates_later_than_the_tuft_of_a_foil_stalls_and_a_deep_one_sooner() -> (
    None
):
    """A foil of 24 mm, chord 3 m, tuft 25 cm behind it."""
    holds = nose_holds(np.array(0.004))
    for load, later in ((0.2, True), (0.6, False)):
        limit = leeward_limit(np.array(0.083), np.array(load), holds)
        assert (separation(limit, np.array(load), holds) > LEECH_SEPARATED) == later
    assert separation(np.array(0.18)) < LEECH_SEPARATED


NOSES = nose_holds(np.array([0.0, 0.0005, 0.002, 0.005, 0.015]))


@pytest.mark.parametrize("camber", [0.0, 0.2, 0.5])
@pytest.mark.parametrize("incidence", [0.05, 0.10, 0.15, 0.2])
def test_a_thinner_luff_lifts_less_and_drags_more(incidence: float, camber: float) -> None:
    at = np.full(5, incidence), np.full(5, camber)
    lift = lift_ratios(*at, NOSES)[0]
    drag = drag_coefficients(*at, 2.0 * np.pi * at[0] + np.pi * at[1], NOSES)
    assert np.all(np.diff(lift) >= 0.0)
    assert np.all(np.diff(drag) <= 1e-12)


def test_the_luff_s_thickness_tells_nothing_while_the_thinner_holds() -> None:
    at = np.full(2, 0.02), np.full(2, 0.45)
    thick_and_thin = nose_holds(np.array([0.003, 0.015]))
    assert np.ptp(lift_ratios(*at, thick_and_thin)[0]) < 1e-3
    assert np.ptp(drag_coefficients(*at, np.full(2, 1.5), thick_and_thin)) < 2e-4
