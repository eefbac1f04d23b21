"""Ropes and stays: chains of points with one tension each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from luffwright.arrays import FloatArray, IntArray

KNOT = 0.03
"""How thick the knot is that keeps a clew's ring off the jaw of a pole [m]: a judgement. A sheet of
no length at all would pull any way, and where it is hauled right in nothing would settle.
"""


@dataclass(frozen=True)
class Rope:
    """One rope through a `chain` of points, as in `Ropes`."""

    name: str
    chain: tuple[int, ...]
    length: float
    spring: float
    both: bool
    breaking: float
    sense: int
    knot: float


@dataclass(frozen=True)
class Ropes:
    """Ropes side by side, one tension each: unstretched `length` [m], `spring` [N/m]; `both` = 1
    pushes as well as it pulls; `breaking` [N] or 0; `sense` = -1 where the boom's push between the
    ends is the rope's own pull; no leg is shorter than its `knot` [m].
    """

    names: tuple[str, ...]
    begin: IntArray
    point: IntArray
    length: FloatArray
    knot: FloatArray
    spring: FloatArray
    both: IntArray
    breaking: FloatArray
    sense: FloatArray

    def index(self, name: str) -> int:
        """Return the number of the rope called `name`."""
        return self.names.index(name)


def joined(ropes: Sequence[Rope]) -> Ropes:
    """Return ropes side by side.

    Parameters
    ----------
    ropes : sequence of Rope

    Returns
    -------
    Ropes
    """
    return Ropes(
        tuple(it.name for it in ropes),
        np.concatenate([[0], np.cumsum([len(it.chain) for it in ropes])]).astype(np.int64),
        np.concatenate([np.array(it.chain) for it in ropes]).astype(np.int64),
        np.array([it.length for it in ropes]),
        np.array([it.knot for it in ropes]),
        np.array([it.spring for it in ropes]),
        np.array([it.both for it in ropes], dtype=np.int64),
        np.array([it.breaking for it in ropes]),
        np.array([it.sense for it in ropes], dtype=np.float64),
    )
