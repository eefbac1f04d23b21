"""What every step of Newton's needs, against NumPy and closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.sails.newton import SECANTS, Secants, solve_dense, to_and_fro

SIZE = 40


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


def test_secants_make_the_tangent_true_along_the_last_step_and_leave_the_rest() -> None:
    """C. G. Broyden, Math. Comp. 19 (1965), eqs. 4.3 and 4.4 (from memory): B s = y, and B q as it
    was for every q square to s.
    """
    draw = np.random.default_rng(1)
    tangent = draw.normal(size=(SIZE, SIZE))
    step, change, square = draw.normal(size=(3, SIZE))
    square -= step * (square @ step) / (step @ step)
    corrected = Secants().after(step, change).correct(tangent)
    np.testing.assert_allclose(corrected @ step, change, atol=1e-10)
    np.testing.assert_allclose(corrected @ square, tangent @ square, atol=1e-10)


def test_only_the_last_secants_are_remembered() -> None:
    seen = Secants()
    for k in range(SECANTS + 2):
        seen = seen.after(np.full(SIZE, 1.0 + k), np.zeros(SIZE))
    assert [it[0] for it in seen.steps] == [3.0 + k for k in range(SECANTS)]


def test_a_dense_system_is_solved_to_a_few_millionths() -> None:
    draw = np.random.default_rng(2)
    matrix = draw.normal(size=(SIZE, SIZE)) + SIZE * np.eye(SIZE)
    right = draw.normal(size=SIZE)
    np.testing.assert_allclose(
        solve_dense(matrix, right), np.linalg.solve(matrix, right), rtol=4e-6
    )


def test_a_singular_system_moves_nothing() -> None:
    assert not solve_dense(np.zeros((3, 3)), np.ones(3)).any()
