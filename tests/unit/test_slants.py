"""Surfaces that know slopes: they go where the slopes say, and tell more of what was not flown."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.advice.emulator import NO_SLANTS, Slants, Smooth, surface
from luffwright.arrays import FloatArray

AXES = 4
SMOOTH = Smooth(1.5, 0.5, 1e-3)
POINTS = np.random.default_rng(3).uniform(-1.0, 1.0, (40, AXES))
FIRST = np.arange(12)


def hill(x: FloatArray) -> FloatArray:
    """Return a hill of our own: any smooth one would do."""
    return np.asarray(
        np.sin(2.0 * x[:, 0]) + (1.0 + x[:, 1]) * (1.0 + x[:, 2]) - 0.5 * x[:, 3] ** 2
    )


def slope(x: FloatArray, axis: int) -> FloatArray:
    """Return its slope along an axis, in closed form."""
    parts = (2.0 * np.cos(2.0 * x[:, 0]), 1.0 + x[:, 2], 1.0 + x[:, 1], -x[:, 3])
    return parts[axis]


def slants(axes: tuple[int, ...] = (0, 1, 2, 3)) -> Slants:
    """Return the slopes of the hill at the first states."""
    state = np.tile(FIRST, len(axes))
    axis = np.repeat(np.array(axes), len(FIRST))
    rise = np.concatenate([slope(POINTS[FIRST], it) for it in axes])
    return Slants(state, axis, rise)


def leaning(points: FloatArray, axis: int, known: Slants) -> FloatArray:
    """Return the slopes of the surface at points, by differences."""
    found = surface(POINTS, hill(POINTS), SMOOTH, known)
    step = 1e-2 * np.eye(AXES)[axis]
    return (found(points + step) - found(points - step)) / 2e-2


def off(axis: int, known: Slants) -> float:
    """Return how far the surface's slopes are off at the first states, root mean square."""
    wrong = leaning(POINTS[FIRST], axis, known) - slope(POINTS[FIRST], axis)
    return float(np.sqrt(np.mean(wrong**2)))


@pytest.mark.parametrize("axis", range(AXES))
def test_a_surface_leans_as_its_known_slopes_say(axis: int) -> None:
    assert off(axis, slants()) < 0.06
    assert off(axis, slants()) < 0.4 * off(axis, NO_SLANTS)


def test_slopes_along_one_axis_are_taken_without_the_others() -> None:
    assert off(0, slants((0,))) < 0.4 * off(0, NO_SLANTS)


def test_heights_that_were_not_flown_are_told_better_with_slopes() -> None:
    elsewhere = np.random.default_rng(4).uniform(-1.0, 1.0, (400, AXES))
    error = [
        float(np.std(surface(POINTS, hill(POINTS), SMOOTH, *known)(elsewhere) - hill(elsewhere)))
        for known in ((), (slants(),))
    ]
    assert error[1] < 0.7 * error[0]


def test_only_the_slopes_of_the_first_states_are_kept_when_so_asked() -> None:
    few = slants().of(5)
    assert set(few.state) == set(range(5))
    assert len(few.axis) == len(few.rise) == 5 * AXES
