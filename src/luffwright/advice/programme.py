"""The least of a bowl within flat fences: small convex quadratic programmes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import LinAlgError, cho_factor, cho_solve

from luffwright.arrays import FloatArray

ROUNDS = 60
CLOSE = 1e-8
"""Greatest error of any condition, in the programme's own units."""
TINY = 1e-100
"""Least gap that is still a number to divide by: fences with no inside drive it to nothing."""
SHORT = 0.99
"""Share of the way to the nearest fence."""


@dataclass(frozen=True)
class Least:
    """The place x (n,) of the least, the price (m,) of each fence, and whether it was found."""

    place: FloatArray
    prices: FloatArray
    found: bool


def least_within(bowl: FloatArray, tilt: FloatArray, fence: FloatArray, room: FloatArray) -> Least:
    r"""Return the least of a bowl within fences.

    .. math:: \min_x \tfrac12 x^T Q x + c^T x \quad\text{with}\quad G x \le h

    Parameters
    ----------
    bowl : (n, n) array
        :math:`Q`, positive definite. [the programme's own units, as all that follows]
    tilt : (n,) array
        :math:`c`.
    fence : (m, n) array
        :math:`G`.
    room : (m,) array
        :math:`h`.

    Returns
    -------
    Least

    Notes
    -----
    Holds for: a feasible programme with an inside; terms within some orders of magnitude of one.

    References
    ----------
    .. [1] Nocedal and Wright, *Numerical Optimization*, 2nd edition, Springer, 2006,
       algorithm 16.4 (predictor and corrector of an interior point).

    Examples
    --------
    The least of (x - 3)² with x at most 1 lies at the fence, which costs 4 a unit:

    >>> found = least_within(np.array([[2.0]]), np.array([-6.0]), np.eye(1), np.ones(1))
    >>> found.place.round(6), found.prices.round(6)
    (array([1.]), array([4.]))
    """
    x, gap, price = np.zeros(len(tilt)), np.maximum(room, 1.0), np.ones(len(room))
    for _ in range(ROUNDS):
        dual = bowl @ x + tilt + fence.T @ price
        primal = fence @ x + gap - room
        mean = float(gap @ price) / len(room)
        if max(float(np.max(np.abs(dual))), float(np.max(np.abs(primal))), mean) < CLOSE:
            return Least(x, price, found=True)
        if not (np.all(gap > TINY) and np.all(price < 1.0 / TINY)):
            break
        try:
            factor = cho_factor(bowl + (fence.T * (price / gap)) @ fence)
        except LinAlgError:
            # So close to the fences that rounding hides the bowl: as near as numbers can tell.
            break
        # How far one gets without keeping clear of the fences says how clear one has to keep.
        _, to_gap, to_price = _step(factor, fence, (dual, primal, gap * price), gap, price)
        share = _share(gap, to_gap, price, to_price)
        ahead = float((gap + share * to_gap) @ (price + share * to_price)) / len(room)
        clear = (ahead / mean) ** 3 * mean
        both = gap * price + to_gap * to_price - clear
        to_x, to_gap, to_price = _step(factor, fence, (dual, primal, both), gap, price)
        share = min(1.0, SHORT * _share(gap, to_gap, price, to_price))
        x, gap, price = x + share * to_x, gap + share * to_gap, price + share * to_price
    return Least(x, price, found=False)


def _step(
    factor: tuple[FloatArray, bool],
    fence: FloatArray,
    off: tuple[FloatArray, FloatArray, FloatArray],
    gap: FloatArray,
    price: FloatArray,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return Newton's step of place, gaps and prices from what the conditions are off by."""
    dual, primal, both = off
    right = -dual - fence.T @ ((price * primal - both) / gap)
    to_x = np.asarray(cho_solve(factor, right))
    to_gap = -primal - fence @ to_x
    return to_x, to_gap, (-both - price * to_gap) / gap


def _share(gap: FloatArray, to_gap: FloatArray, price: FloatArray, to_price: FloatArray) -> float:
    """Return the share of a step at which the first gap or price is used up, at most 1."""
    have, lose = np.concatenate([gap, price]), np.concatenate([to_gap, to_price])
    falling = lose < 0.0
    return float(min(1.0, np.min(-have[falling] / lose[falling], initial=1.0 / SHORT)))
