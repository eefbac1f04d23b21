"""What every step of Newton's needs: a dense solve, secants that put its tangent right, and a sign
of steps that lead nowhere.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg.lapack import sgetrf, sgetrs

from luffwright.arrays import FloatArray

SECANTS = 4
"""How many of the last steps correct the tangent of the air."""
TO_AND_FRO = 0.05
"""Sizes that differ by less than this share, every other one, are those of steps to and fro."""
TO_AND_FRO_AFTER = 5
"""Steps before which none are: far away sizes may be alike by chance."""


@dataclass(frozen=True)
class Secants:
    """The last steps and what the air's loads did over them.

    The tangent of the air holds the influence of one filament on another; where the sail is soft,
    a stalled or luffing leech, that error would let every step overshoot. Broyden's correction puts
    the tangent right along the steps just made.
    """

    steps: tuple[FloatArray, ...] = ()
    changes: tuple[FloatArray, ...] = ()

    def after(self, step: FloatArray, change: FloatArray) -> Secants:
        """Return the memory with one more step [m] and its change [N], the oldest forgotten."""
        if float(step @ step) < 1e-16:
            return self
        keep = SECANTS - 1
        return Secants((*self.steps[-keep:], step), (*self.changes[-keep:], change))

    def correct(self, tangent: FloatArray) -> FloatArray:
        """Return the tangent [N/m] made true along the steps remembered, the newest last."""
        out = tangent
        for step, change in zip(self.steps, self.changes, strict=True):
            out = out + np.outer(change - out @ step, step) / float(step @ step)
        return out


def solve_dense(matrix: FloatArray, right: FloatArray) -> FloatArray:
    """Return the solution of a system, good to a few millionths; a singular one has no say: nought.

    Factors of single precision take two thirds of the time; what they leave is put right once.
    LAPACK reads a matrix by columns, so that the transposed one is solved.

    Parameters
    ----------
    matrix : (n, n) array
        [N/m]
    right : (n,) array
        [N]

    Returns
    -------
    (n,) array
        [m]

    Examples
    --------
    >>> solve_dense(np.array([[2.0, 0.0], [0.0, 4.0]]), np.array([2.0, 2.0]))
    array([1. , 0.5])
    """
    factors, pivots, singular = sgetrf(matrix.T.astype(np.float32), overwrite_a=True)
    if singular:
        return np.zeros_like(right)

    def through(side: FloatArray) -> FloatArray:
        found, _ = sgetrs(factors, pivots, side.astype(np.float32), trans=1)
        return np.asarray(found, dtype=np.float64)

    first = through(right)
    return first + through(right - matrix @ first)


def to_and_fro(sizes: list[float]) -> bool:
    """Return whether a search steps to and fro between two states.

    Where one rope or fold comes taut as another one goes slack, each full step of Newton's undoes
    the last: what balances lies between.

    Parameters
    ----------
    sizes : list of float
        What was out of balance, step by step. [N]

    Returns
    -------
    bool

    Examples
    --------
    >>> to_and_fro([5.0, 80.0, 1.2, 79.9, 1.2])
    False
    >>> to_and_fro([5.0, 80.0, 1.2, 79.9, 1.2, 79.9])
    True
    """
    if len(sizes) <= TO_AND_FRO_AFTER:
        return False
    return all(abs(sizes[-k] / sizes[-k - 2] - 1.0) < TO_AND_FRO for k in (1, 2))
