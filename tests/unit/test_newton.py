"""A sign of steps to and fro, on a force from which Newton's steps are known in closed form."""

from __future__ import annotations

import pytest

from luffwright.sails.newton import to_and_fro


def residual(place: float) -> tuple[float, float]:
    """Return force and stiffness of one that flattens out to both sides: x / sqrt(1 + x^2)."""
    root = (1.0 + place**2) ** 0.5
    return place / root, 1.0 / root**3


@pytest.mark.parametrize("start", [1.0, -1.0])
def test_half_a_step_ends_what_full_ones_would_go_on_with(start: float) -> None:
    """From 1 Newton's step on x / sqrt(1 + x^2) leads to -1, and back: -x^3 in closed form."""
    place, sizes = start, []
    for _ in range(20):
        force, stiff = residual(place)
        sizes.append(abs(force) + 1e-300)
        share = 0.5 if to_and_fro(sizes) else 1.0
        place -= share * force / stiff
    assert abs(place) < 1e-6
    assert sizes[:6] == pytest.approx([0.5**0.5] * 6)


def test_sizes_that_fall_are_no_steps_to_and_fro() -> None:
    assert not to_and_fro([10.0 * 0.8**k for k in range(20)])


def test_sizes_that_differ_on_one_side_are_none_either() -> None:
    assert not to_and_fro([5.0, 80.0, 1.2, 70.0, 1.2, 60.0, 1.2])
