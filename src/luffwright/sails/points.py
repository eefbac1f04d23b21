"""All points of the boat as linear combinations of the unknowns: x = B q + c.

An unknown may be a free node's coordinate or a mast's deflection; a point may be fixed, free, or a
combination of others (a place on the boom, a spreader's tip, a board's hole on the leech).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain

import numpy as np
from scipy.sparse import csr_matrix, identity
from scipy.sparse.linalg import spsolve

from luffwright.arrays import FloatArray, IntArray

Row = dict[int, float]


@dataclass
class PointBuilder:
    """Collects points while a boat is put together; `build` freezes them."""

    rows: list[Row] = field(default_factory=list)
    constant: list[float] = field(default_factory=list)
    unknowns: int = 0
    names: dict[str, int] = field(default_factory=dict)

    @property
    def count(self) -> int:
        """Return the number of points so far."""
        return len(self.rows) // 3

    def unknown(self, count: int = 1) -> int:
        """Return the number of the first of `count` new unknowns."""
        first = self.unknowns
        self.unknowns += count
        return first

    def add(self, rows: Sequence[Row], constant: Sequence[float], name: str = "") -> int:
        """Return the number of a new point given by its three rows and their constants [m]."""
        point = self.count
        self.rows.extend(dict(row) for row in rows)
        self.constant.extend(float(value) for value in constant)
        if name:
            self.names[name] = point
        return point

    def free(self, name: str = "") -> int:
        """Return a new point that moves as it likes."""
        first = self.unknown(3)
        point = self.count
        self.rows += [{first: 1.0}, {first + 1: 1.0}, {first + 2: 1.0}]
        self.constant += [0.0, 0.0, 0.0]
        if name:
            self.names[name] = point
        return point

    def fixed(self, place: Sequence[float], name: str = "") -> int:
        """Return a new point that stays at `place` [m]."""
        return self.add([{}, {}, {}], place, name)

    def mix(
        self, parts: Sequence[tuple[int, float]], shift: Sequence[float] = (0, 0, 0), name: str = ""
    ) -> int:
        """Return a new point that is a weighted sum of others, moved by `shift` [m]."""
        rows, constant = [], []
        for axis in range(3):
            row: Row = {}
            value = float(shift[axis])
            for point, weight in parts:
                value += weight * self.constant[3 * point + axis]
                for key, part in self.rows[3 * point + axis].items():
                    row[key] = row.get(key, 0.0) + weight * part
            rows.append(row)
            constant.append(value)
        return self.add(rows, constant, name)

    def build(self) -> Points:
        """Return the frozen map."""
        first = np.zeros(len(self.rows) + 1, dtype=np.int64)
        np.cumsum([len(row) for row in self.rows], out=first[1:])
        column = chain.from_iterable(self.rows)
        weight = chain.from_iterable(row.values() for row in self.rows)
        return Points(
            first,
            np.fromiter(column, dtype=np.int64, count=first[-1]),
            np.fromiter(weight, dtype=float, count=first[-1]),
            np.array(self.constant).reshape(-1, 3),
            self.unknowns,
            dict(self.names),
        )


@dataclass(frozen=True)
class Points:
    """The map from unknowns to points, as the rows of a sparse matrix and constants."""

    first: IntArray
    column: IntArray
    weight: FloatArray
    constant: FloatArray
    unknowns: int
    names: dict[str, int]

    def matrix(self) -> csr_matrix:
        """Return B, (3 · points, unknowns)."""
        return self._matrix

    @cached_property
    def _matrix(self) -> csr_matrix:
        return csr_matrix(
            (self.weight, self.column, self.first), shape=(len(self.first) - 1, self.unknowns)
        )

    @cached_property
    def transposed(self) -> csr_matrix:
        """Return the transpose of B, which takes forces on points to the unknowns."""
        return self._matrix.T.tocsr()

    @cached_property
    def inertia(self) -> FloatArray:
        """Return how much of the points hangs on each unknown, one at least [points]."""
        weight = np.bincount(self.column, np.abs(self.weight), self.unknowns)
        return np.asarray(np.maximum(weight, 1.0))

    def solve_for(self, places: FloatArray) -> FloatArray:
        """Return the unknowns that put the points nearest to `places` [m] (least squares)."""
        matrix = self.matrix()
        right = matrix.T @ (places - self.constant).ravel()
        normal = matrix.T @ matrix + 1e-12 * identity(self.unknowns)
        found: FloatArray = spsolve(normal.tocsc(), right)
        return found
