r"""An emulator of the mechanics: a quadratic surface and a Gaussian process on what it leaves.

One for each quantity that is seen or felt. Errors are those on states left out of the fit, one at a
time, by the closed form of the leave-one-out residual.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve

from luffwright.arrays import FloatArray

BEYOND = 1.1
"""How far outside of what was flown a point is still told from where it lies; farther ones are
taken at the edge [half ranges]."""
ROUGHNESS = (1e-1, 3e-2, 1e-2, 3e-3)
"""Tried variances of what no surface explains, as shares of a quantity's own."""
LENGTHS = (1.0, 1.5, 2.5, 6.0)
"""Tried lengths over which the rest varies, in units in which each axis counts as it matters."""
BUMPS = (0.1, 0.5, 2.0, 8.0)
"""Tried variances of the process, against that of the curved part of the surface."""
CURVED = 0.25
"""Variance of the coefficients of second order against those of first."""
LEAST_WEIGHT = 0.02


@dataclass(frozen=True)
class Surface:
    """One quantity over the axes: `flat`, `slope` (axes,) and `bend` (axes, axes) of its quadratic,
    and the `bumps` (n,) about the states (axes + 2, n) that were flown, `near`; `error`: root mean
    square on states left out [its unit].
    """

    weight: FloatArray
    length: float
    middle: float
    size: float
    flat: float
    slope: FloatArray
    bend: FloatArray
    near: NDArray[np.float32]
    bumps: NDArray[np.float32]
    error: float

    def __call__(self, points: FloatArray) -> FloatArray:
        """Return the quantity [its unit] at points (n, axes) [half ranges]."""
        there = np.clip(points, -BEYOND, BEYOND) * self.weight
        curve = np.einsum("ij,ij->i", there @ self.bend, there)
        quadratic = self.flat + there @ self.slope + curve
        # The bumps in single precision: what is lost is a ten thousandth of the surface's error.
        bumps = np.exp(_beside(there / self.length) @ self.near) @ self.bumps
        return np.asarray(self.middle + self.size * (quadratic + bumps), dtype=np.float64)

    def tilted(self, place: int, by: float) -> Surface:
        """Return the surface with a plane added that rises along one axis.

        Parameters
        ----------
        place : int
            Which axis.
        by : float
            Rise over half of its range. [its unit]

        Returns
        -------
        Surface

        Examples
        --------
        >>> x = np.linspace(-1.0, 1.0, 9)[:, None]
        >>> level = surface(x, 2.0 + 3.0 * x[:, 0]).tilted(0, -3.0)
        >>> bool(abs(level(np.array([[0.5]]))[0] - 2.0) < 0.05)
        True
        """
        slope = self.slope.copy()
        slope[place] += by / (self.size * self.weight[place])
        return replace(self, slope=slope)


def _beside(points: FloatArray) -> NDArray[np.float32]:
    """Return points (n, axes + 2) so that products with `_about` are those of the exponent."""
    square = -0.5 * np.sum(points * points, axis=1, keepdims=True)
    return np.hstack([points, square, np.ones_like(square)]).astype(np.float32)


def _about(points: FloatArray) -> NDArray[np.float32]:
    square = -0.5 * np.sum(points * points, axis=1, keepdims=True)
    return np.hstack([points, np.ones_like(square), square]).astype(np.float32).T.copy()


@dataclass(frozen=True)
class Smooth:
    """How smooth a quantity is: `length` over which it varies, variance of its `bump`s, and what is
    `rough`: no surface explains it [-].
    """

    length: float
    bump: float
    rough: float


def smoothness(points: FloatArray, values: FloatArray) -> Smooth:
    """Return how smooth a quantity is: what leaves the least error on states left out.

    Parameters
    ----------
    points : (n, axes) array
        [half ranges]
    values : (n,) array
        [its unit]

    Returns
    -------
    Smooth
    """
    told = _told(values)[2]
    weight = _weights(points, told)
    found: list[tuple[float, Smooth]] = []
    for length, bump in product(LENGTHS, BUMPS):
        kernel = _kernel(points, points, weight, length, bump)
        for rough in ROUGHNESS:
            error = _left_out(kernel, rough, told)[0]
            found.append((error, Smooth(length, bump, rough)))
    return min(found, key=lambda it: it[0])[1]


def surface(points: FloatArray, values: FloatArray, smooth: Smooth | None = None) -> Surface:
    r"""Return the surface fitted to a quantity.

    .. math:: k(x, y) = 1 + x'Wy + \tfrac14 (x'Wy)^2 + b \exp(-|x - y|_W^2 / 2 l^2)

    Parameters
    ----------
    points : (n, axes) array
        [half ranges]
    values : (n,) array
        [its unit]
    smooth : Smooth, optional
        Found from the values unless known.

    Returns
    -------
    Surface
        Axes weigh by the slopes and bends of a simple fit.

    Notes
    -----
    With the polynomial kernel the mean is a quadratic whose coefficients are held small in
    proportion to what each axis matters, so that it stands on fewer states than coefficients.

    References
    ----------
    .. [1] Rasmussen and Williams, *Gaussian Processes for Machine Learning*, MIT Press, 2006,
       eq. 2.25 and 5.12.

    Examples
    --------
    A plane is told between its points:

    >>> x = np.linspace(-1.0, 1.0, 9)[:, None]
    >>> found = surface(x, 2.0 + 3.0 * x[:, 0])
    >>> bool(abs(found(np.array([[0.1]]))[0] - 2.3) < 0.03)
    True
    """
    known = smooth or smoothness(points, values)
    middle, size, told = _told(values)
    weight = _weights(points, told)
    kernel = _kernel(points, points, weight, known.length, known.bump)
    error, solved = _left_out(kernel, known.rough, told)
    lies = points * weight
    return Surface(
        weight, known.length, middle, size, float(np.sum(solved)), lies.T @ solved,
        CURVED * (lies.T * solved) @ lies, _about(lies / known.length),
        (known.bump * solved).astype(np.float32), size * error,
    )  # fmt: skip


def _told(values: FloatArray) -> tuple[float, float, FloatArray]:
    """Return middle and size of a quantity, and it as shares of that size about the middle."""
    middle, size = float(np.mean(values)), max(float(np.std(values)), 1e-12)
    return middle, size, (values - middle) / size


def _left_out(kernel: FloatArray, rough: float, told: FloatArray) -> tuple[float, FloatArray]:
    """Return the error on states left out, and the weights of all states."""
    factor = cho_factor(kernel + rough * np.eye(len(told)), lower=True)
    inverse = cho_solve(factor, np.eye(len(told)))
    solved = inverse @ told
    left = solved / np.diag(inverse)
    return float(np.sqrt(np.mean(left**2))), solved


def _weights(points: FloatArray, told: FloatArray) -> FloatArray:
    """Return how much each axis matters [-]: slopes and bends of a ridge fit, the greatest 1."""
    ones = np.ones((len(points), 1))
    basis = np.hstack([ones, points, points**2 - 1.0 / 3.0])
    ridge = 0.02 * len(points) * np.eye(basis.shape[1])
    found = np.linalg.solve(basis.T @ basis + ridge, basis.T @ told)
    count = points.shape[1]
    size = np.hypot(found[1 : 1 + count], 2.0 * found[1 + count :])
    return np.maximum(size / max(float(np.max(size)), 1e-9), LEAST_WEIGHT)


def _kernel(
    left: FloatArray, right: FloatArray, weight: FloatArray, length: float, bump: float
) -> FloatArray:
    a, b = (part * weight for part in (left, right))
    inner = a @ b.T
    square = np.sum(a * a, axis=1)[:, None] + np.sum(b * b, axis=1)[None, :] - 2.0 * inner
    near = np.exp(-0.5 * np.maximum(square, 0.0) / length**2)
    return np.asarray(1.0 + inner + CURVED * inner**2 + bump * near)
