"""The search's picture of what it seeks, near a state: a hill with slopes, bends and fences.

All moves are counted in steps of each parameter, so that a turn of the backstay and a hole of the
car are of one size.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from luffwright.advice.programme import least_within
from luffwright.arrays import FloatArray

LEAST_BEND = 3e-5
"""Share of the aim by which a whole step squared costs at least: eight steps away it is 0.1 %."""
NARROW = 1e-6
"""What has less room [steps] does not move."""
OVER = 1e-6
"""Bend of the price of a limit passed: so little that the price stays one."""
SHARPEST = 4.0
"""How much shorter than the step that failed the step to the top is believed to be at most."""


@dataclass(frozen=True)
class Fences:
    """The limits near a state: `used`, the share of each that is used [-], and `slopes` (limits,
    n), its change by one step of each parameter; `price` of passing one by its whole.
    """

    used: FloatArray
    slopes: FloatArray
    price: float

    def after(self, moves: FloatArray) -> Fences:
        """Return the limits after a move [steps]."""
        return replace(self, used=self.used + self.slopes @ moves)

    def cost(self, moves: FloatArray) -> float:
        """Return the price of the limits passed after a move [in the aim's unit]."""
        over = np.maximum(self.used + self.slopes @ moves - 1.0, 0.0)
        return self.price * float(over.sum())


@dataclass(frozen=True)
class Hill:
    """The aim near a state: `slope` (n,) and `bend` (n, n), positive where it falls off to both
    sides, by steps of each parameter; `height` is the aim there.
    """

    height: float
    slope: FloatArray
    bend: FloatArray

    def gain(self, moves: FloatArray) -> float:
        """Return what a move brings [in the aim's unit].

        Examples
        --------
        A slope of 2 that bends by 1 gains most after 2 steps, namely 2:

        >>> Hill(10.0, np.array([2.0]), np.array([[1.0]])).gain(np.array([2.0]))
        2.0
        """
        return float(self.slope @ moves - 0.5 * moves @ self.bend @ moves)

    def seen(self, moves: FloatArray, gain: float) -> Hill:
        """Return the hill put right by the gain that a move [steps] has really brought.

        The blame goes to what bends most already; the top is never believed nearer than a fourth
        of the move.
        """
        blame = np.diag(self.bend) * moves
        size = float(moves @ blame)
        first = float(self.slope @ moves)
        if size <= 0.0 or first <= 0.0:
            return self
        wanted = float(np.clip(2.0 * (first - gain), 0.0, SHARPEST * first))
        lacks = wanted - float(moves @ self.bend @ moves)
        bend = self.bend + lacks * np.outer(blame, blame) / size**2
        return replace(self, bend=whole(bend, self.height))

    def moved(self, moves: FloatArray, height: float, slope: FloatArray, turn: FloatArray) -> Hill:
        """Return the hill about another state: its height and slope there, its bend by BFGS.

        Parameters
        ----------
        moves : (n,) array
            From the old state to the new. [steps]
        height : float
        slope : (n,) array
        turn : (n,) array
            By how much the slope, less that of the limits at their prices, has fallen.

        Notes
        -----
        Powell's damping keeps the bend positive where the hill is hollow.

        References
        ----------
        .. [1] Nocedal and Wright, *Numerical Optimization*, 2nd edition, Springer, 2006,
           procedure 18.2 (damped BFGS updating).
        """
        before = self.bend @ moves
        size = float(moves @ before)
        if size <= 0.0:
            return Hill(height, slope, self.bend)
        along = float(moves @ turn)
        share = 1.0 if along >= 0.2 * size else 0.8 * size / (size - along)
        blend = share * turn + (1.0 - share) * before
        bend = (
            self.bend
            - np.outer(before, before) / size
            + np.outer(blend, blend) / float(moves @ blend)
        )
        return Hill(height, slope, whole(bend, height))

    def after(self, moves: FloatArray) -> Hill:
        """Return the hill about the place after a move, as the bend tells it [steps]."""
        return Hill(self.height + self.gain(moves), self.slope - self.bend @ moves, self.bend)


def whole(bend: FloatArray, height: float) -> FloatArray:
    """Return a bend that falls off in every direction by the least that is believed.

    Parameters
    ----------
    bend : (n, n) array
        By steps. [the aim's unit]
    height : float
        The aim there. [its unit]

    Returns
    -------
    (n, n) array
    """
    values, vectors = np.linalg.eigh(0.5 * (bend + bend.T))
    kept = np.maximum(values, LEAST_BEND * abs(height))
    return np.asarray((vectors * kept) @ vectors.T)


def first_hill(height: float, slope: FloatArray, reach: float) -> Hill:
    """Return the hill before anything is known of its bends: each top `reach` steps away.

    Parameters
    ----------
    height : float
    slope : (n,) array
    reach : float
        [steps]

    Returns
    -------
    Hill
    """
    bend = np.diag(np.maximum(np.abs(slope) / reach, LEAST_BEND * abs(height)))
    return Hill(height, slope, bend)


@dataclass(frozen=True)
class Move:
    """The best move of a model: `moves` [steps], what it promises, and the price (limits,) of each
    limit: what the aim would gain were all of it there once more.
    """

    moves: FloatArray
    promise: float
    prices: FloatArray


def best_move(hill: Hill, fences: Fences, low: FloatArray, high: FloatArray) -> Move:
    """Return the move that promises most within the reach.

    Parameters
    ----------
    hill : Hill
    fences : Fences
        A limit may be passed at its price.
    low, high : (n,) array
        Least and greatest move of each parameter. [steps]

    Returns
    -------
    Move
        Nothing is promised where no move is better than none.

    Examples
    --------
    A slope of 2 that bends by 1, with a fence after one step:

    >>> hill = Hill(10.0, np.array([2.0]), np.array([[1.0]]))
    >>> fences = Fences(np.array([0.9]), np.array([[0.1]]), 100.0)
    >>> best_move(hill, fences, np.array([-5.0]), np.array([5.0])).moves.round(6)
    array([1.])
    """
    moves, prices = np.zeros(len(hill.slope)), np.zeros(len(fences.used))
    free = high - low > NARROW
    count = int(free.sum())
    if count == 0:
        return Move(moves, 0.0, prices)
    near = fences.used + np.sum(np.maximum(fences.slopes * low, fences.slopes * high), axis=1) > 1.0
    rows = int(near.sum())
    unit = 1e-3 * max(abs(hill.height), 1e-9)
    bowl = np.diag(np.concatenate([np.zeros(count), np.full(rows, OVER)]))
    bowl[:count, :count] = hill.bend[np.ix_(free, free)] / unit
    # How far a limit is passed is counted in shares of it that cost one unit.
    share = unit / fences.price
    tilt = np.concatenate([-hill.slope[free] / unit, np.ones(rows)])
    none, one = np.zeros((rows, count)), np.eye(count)
    fence = np.vstack(
        [
            np.hstack([one, none.T]),
            np.hstack([-one, none.T]),
            np.hstack([fences.slopes[np.ix_(near, free)] / share, -np.eye(rows)]),
            np.hstack([none, -np.eye(rows)]),
        ]
    )
    room = np.concatenate(
        [high[free], -low[free], (1.0 - fences.used[near]) / share, np.zeros(rows)]
    )
    least = least_within(bowl, tilt, fence, room)
    moves[free] = np.clip(least.place[:count], low[free], high[free])
    promise = hill.gain(moves) + fences.cost(np.zeros_like(moves)) - fences.cost(moves)
    if not promise > 0.0:
        return Move(np.zeros_like(moves), 0.0, prices)
    prices[near] = least.prices[2 * count : 2 * count + rows] * fences.price
    return Move(moves, promise, prices)


def whole_moves(
    hill: Hill, fences: Fences, low: FloatArray, high: FloatArray, marks: FloatArray
) -> FloatArray:
    """Return the best move [steps] that ends on marks, one parameter after the other.

    What costs most between two marks is put on the better of both first; the others then answer.

    Parameters
    ----------
    hill : Hill
    fences : Fences
    low, high : (n,) array
        Least and greatest move of each parameter. [steps]
    marks : (n,) array
        From the last mark to where each parameter stands now, 0 to 1 [steps]; not a number where
        any place will do.

    Returns
    -------
    (n,) array

    Examples
    --------
    Half a step from the top, the nearer mark is kept:

    >>> hill = Hill(10.0, np.array([0.4]), np.array([[1.0]]))
    >>> fences = Fences(np.array([0.0]), np.array([[0.0]]), 100.0)
    >>> whole_moves(hill, fences, np.array([-5.0]), np.array([5.0]), np.array([0.0]))
    array([0.])
    """
    moves = best_move(hill, fences, low, high).moves
    left = np.isfinite(marks)
    for place in np.argsort(-np.diag(hill.bend)):
        if not left[place]:
            continue
        left[place] = False
        open_now = left | ~np.isfinite(marks)
        tries = []
        # The nearest mark may lie beyond a limit, and the one on the other side within it.
        for mark in _marks_beside(moves[place], marks[place], (low[place], high[place])):
            fixed = np.where(open_now, 0.0, moves)
            fixed[place] = mark
            rest = best_move(
                hill.after(fixed), fences.after(fixed),
                np.where(open_now, low, 0.0), np.where(open_now, high, 0.0),
            )  # fmt: skip
            tries.append(fixed + rest.moves)
        moves = max(tries, key=lambda it: hill.gain(it) - fences.cost(it))
    return moves


def _on_mark(move: float, past: float, room: tuple[float, float]) -> float:
    """Return the nearest move that ends on a mark within the room, or its nearer end."""
    low, high = room
    to = float(np.round(move + past) - past)
    inside = to + (1.0 if to < low else -1.0 if to > high else 0.0)
    return inside if low <= inside <= high else float(np.clip(to, low, high))


def _marks_beside(move: float, past: float, room: tuple[float, float]) -> tuple[float, ...]:
    """Return the moves that end on the nearest mark and on the one on the other side."""
    nearest = _on_mark(move, past, room)
    other = _on_mark(nearest + (1.0 if move > nearest else -1.0), past, room)
    return tuple(dict.fromkeys((nearest, other)))
