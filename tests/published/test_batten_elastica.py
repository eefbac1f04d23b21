"""A batten pushed from its ends against the exact bent strut, far beyond small slopes."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import minimize
from scipy.special import ellipe, ellipk

from luffwright.arrays import FloatArray
from luffwright.sails.bending_kernel import assemble_bends

HALF = 20
"""Pieces of half the batten, which is one metre long and of unit stiffness."""
PIECE = 0.5 / HALF


def chain(turned: FloatArray) -> FloatArray:
    """Return the points of a batten symmetric about its middle, from the slopes of one half."""
    slope = np.concatenate([turned[::-1], -turned])
    step = PIECE * np.stack([np.cos(slope), np.sin(slope), 0.0 * slope], axis=1)
    return np.concatenate([np.zeros((1, 3)), np.cumsum(step, axis=0)])


def energy(points: FloatArray) -> float:
    count = len(points)
    joint = np.arange(count - 2)[:, None] + np.arange(3)
    size = 3 * count
    rows = np.arange(size + 1), np.arange(size), np.ones(size)
    return float(
        assemble_bends(
            points, joint, np.full(len(joint), 1.0 / PIECE), *rows,
            np.zeros(size), np.zeros((size, size)),
        )
    )  # fmt: skip


def pushed(push: float) -> FloatArray:
    """Return the points of the batten in balance with a push on its ends [N]."""

    def work(turned: FloatArray) -> float:
        points = chain(turned)
        return energy(points) + push * float(points[-1, 0])

    start = np.linspace(0.02, 1.0, HALF)
    return chain(minimize(work, start, method="BFGS", options={"gtol": 1e-6}).x)


@pytest.mark.source(
    work="Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., McGraw-Hill, 1961 (from memory; "
    "the elliptic integrals are SciPy's)",
    where="art. 2.7",
    tolerance="1 % of the length and of the depth, 40 pieces",
)
@pytest.mark.parametrize("slope_deg", [40.0, 80.0, 120.0])
def test_a_pushed_batten_takes_the_elasticas_shape(slope_deg: float) -> None:
    modulus = np.sin(np.radians(slope_deg) / 2.0)
    whole, second = ellipk(modulus**2), ellipe(modulus**2)
    points = pushed(4.0 * float(whole) ** 2)
    assert points[-1, 0] == pytest.approx(2.0 * second / whole - 1.0, abs=0.01)
    assert points[:, 1].max() == pytest.approx(modulus / whole, rel=0.01)
