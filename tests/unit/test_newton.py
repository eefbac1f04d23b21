"""What every step of Newton's needs, against the formulas it is made of and against NumPy."""

from __future__ import annotations

import numpy as np
import pytest

from luffwright.sails.newton import SECANTS, Secants, solve_dense

SIZE = 40


@pytest.mark.parametrize("count", [0, 1, 3, SECANTS])
def test_secants_correct_a_tangent_as_broydens_update_made_one_by_one(count: int) -> None:
    # C. G. Broyden, Math. Comp. 19 (1965), eq. 4.5: B + (y - B s) sᵀ / (sᵀ s).
    draw = np.random.default_rng(1)
    tangent, seen = draw.normal(size=(SIZE, SIZE)), Secants()
    expected = tangent.copy()
    for _ in range(count):
        step, change = draw.normal(size=SIZE), draw.normal(size=SIZE)
        seen = seen.after(step, change)
        expected += np.outer(change - expected @ step, step) / (step @ step)
    np.testing.assert_allclose(seen.correct(tangent), expected, atol=1e-12)


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
