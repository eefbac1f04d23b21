r"""An emulator of the mechanics: a quadratic surface and a Gaussian process on what it leaves.

One for each quantity that is seen or felt. Where slopes are known too, the surface leans as they
say: a rope's worth is a slope, which differences of noisy heights tell badly. Errors are those on
states left out of the fit, one at a time, by the closed form of the leave-one-out residual.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_factor, cho_solve

from luffwright.arrays import FloatArray, IntArray

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
SLANTED = 1.0
"""Variance of what no surface explains of a slope by half a range, over that of a height."""


CARRIES = 1.0
"""How far what a surface is off by at a state goes on [half ranges]: of the slopes of what no
surface explains the fit believes the same, `SLANTED`."""
STEP = 0.02
"""How far apart a surface's slopes are taken [half ranges]: its bumps are in single precision."""


@dataclass(frozen=True)
class Slants:
    """Slopes that are known: at which `state`, along which `axis`, and the `rise` over half of its
    range [the quantity's unit].
    """

    state: IntArray
    axis: IntArray
    rise: FloatArray

    def of(self, count: int) -> Slants:
        """Return those of the first `count` states."""
        kept = self.state < count
        return Slants(self.state[kept], self.axis[kept], self.rise[kept])

    def at(self, state: int) -> Slants:
        """Return those of one state, as of the first."""
        kept = self.state == state
        return Slants(self.state[kept] - state, self.axis[kept], self.rise[kept])


NO_SLANTS = Slants(np.zeros(0, np.int64), np.zeros(0, np.int64), np.zeros(0))


@dataclass(frozen=True)
class Passed:
    """A state that a surface is made to pass through: where it lies, `at` (axes,) [half ranges],
    and by how much the surface is `off` there [its unit], and its `rise` (axes,) along each axis
    [its unit by half a range]; `counts` (axes,): how fast that fades along each [-].
    """

    at: FloatArray
    off: float
    rise: FloatArray
    counts: FloatArray


@dataclass(frozen=True)
class Surface:
    """One quantity over the axes: `flat`, `slope` (axes,) and `bend` (axes, axes) of its quadratic,
    and the `bumps` (n,) about the states (axes + 2, n) that were flown, `near`; `error`: root mean
    square on states left out [its unit]. Bumps about the states `leans` lean by `lean`, (leans,
    axes).
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
    leans: IntArray
    lean: NDArray[np.float32]
    passes: tuple[Passed, ...] = ()

    def __call__(self, points: FloatArray) -> FloatArray:
        """Return the quantity [its unit] at points (n, axes) [half ranges]."""
        there = np.clip(points, -BEYOND, BEYOND) * self.weight
        curve = np.einsum("ij,ij->i", there @ self.bend, there)
        quadratic = self.flat + there @ self.slope + curve
        # The bumps in single precision: what is lost is a ten thousandth of the surface's error.
        near = np.exp(_beside(there / self.length) @ self.near)
        bumps = near @ self.bumps
        if len(self.leans):
            bumps = bumps + np.einsum("ij,ij->i", near[:, self.leans] @ self.lean, there)
        found = self.middle + self.size * (quadratic + bumps)
        for it in self.passes:
            away = points - it.at
            fades = np.exp(-0.5 * (away * away) @ it.counts**2 / CARRIES**2)
            found = found + fades * (it.off + away @ it.rise)
        return np.asarray(found, dtype=np.float64)

    def passing(self, at: FloatArray, value: float, slants: Slants = NO_SLANTS) -> Surface:
        r"""Return the surface made to pass through a state that was flown besides.

        .. math:: f(x) + e^{-|x - x_0|_W^2 / 2 c^2} \, (\delta + \delta' \cdot (x - x_0))

        Parameters
        ----------
        at : (axes,) array
            Where it lies, :math:`x_0`, beyond what was flown too. [half ranges]
        value : float
            Of the quantity there; :math:`\delta` is what the surface lacks of it. [its unit]
        slants : Slants, optional
            Its slopes there, :math:`\delta'` what the surface lacks of them; `state` is not used.

        Returns
        -------
        Surface

        Notes
        -----
        What the fit leaves over is no noise, for the mechanics give one state one speed: it goes on
        for some way, :math:`c`. That is the mean of a Gaussian process of that length through a
        height and its slopes, in closed form. Along an axis whose slope is known it fades by that
        axis' own range: a slope that the fit did not know is no straight line to its end. Along the
        others, as they matter: a boat that differs in what hardly matters is hardly another one.

        References
        ----------
        .. [1] Rasmussen and Williams, *Gaussian Processes for Machine Learning*, MIT Press, 2006,
           eq. 2.25; 9.4 for derivatives (from memory).

        Examples
        --------
        A plane that was told 0.2 too low, and as if it rose by 3 instead of 2:

        >>> x = np.linspace(-1.0, 1.0, 9)[:, None]
        >>> here, told = (
        ...     np.array([0.5]),
        ...     Slants(np.zeros(1, int), np.zeros(1, int), np.array([2.0])),
        ... )
        >>> found = surface(x, 3.0 * x[:, 0]).passing(here, 1.7, told)
        >>> found(np.array([[0.5], [0.51]])).round(2)
        array([1.7 , 1.72])
        """
        lacks = self.slopes_at(at)
        rise, counts = np.zeros_like(lacks), self.weight.copy()
        rise[slants.axis] = slants.rise - lacks[slants.axis]
        counts[slants.axis] = 1.0
        passed = Passed(at, value - float(self(at[None])[0]), rise, counts)
        return replace(self, passes=(*self.passes, passed))

    def slopes_at(self, at: FloatArray) -> FloatArray:
        """Return the slopes (axes,) at a point [its unit by half a range], by differences."""
        step = STEP * np.eye(len(at))
        return np.asarray((self(at + step) - self(at - step)) / (2.0 * STEP))

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


def smoothness(points: FloatArray, values: FloatArray, slants: Slants = NO_SLANTS) -> Smooth:
    """Return how smooth a quantity is: what leaves the least error on states left out.

    Parameters
    ----------
    points : (n, axes) array
        [half ranges]
    values : (n,) array
        [its unit]
    slants : Slants, optional
        Slopes that are known.

    Returns
    -------
    Smooth
    """
    _, size, told = _told(values)
    told = np.append(told, slants.rise / size)
    weight = _weights(points, told[: len(points)])
    found: list[tuple[float, Smooth]] = []
    for length, bump in product(LENGTHS, BUMPS):
        kernel = _joint(points, slants, weight, Smooth(length, bump, 0.0))
        for rough in ROUGHNESS:
            error = _left_out(kernel, rough, told, len(points))[0]
            found.append((error, Smooth(length, bump, rough)))
    return min(found, key=lambda it: it[0])[1]


def surface(
    points: FloatArray, values: FloatArray, smooth: Smooth | None = None,
    slants: Slants = NO_SLANTS,
) -> Surface:  # fmt: skip
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
    slants : Slants, optional
        Slopes that are known: the kernel's derivatives carry them.

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
       eq. 2.25 and 5.12; 9.4 for derivatives (from memory).

    Examples
    --------
    A plane is told between its points:

    >>> x = np.linspace(-1.0, 1.0, 9)[:, None]
    >>> found = surface(x, 2.0 + 3.0 * x[:, 0])
    >>> bool(abs(found(np.array([[0.1]]))[0] - 2.3) < 0.03)
    True
    """
    known = smooth or smoothness(points, values, slants)
    middle, size, told = _told(values)
    weight = _weights(points, told)
    count, lies = len(points), points * weight
    joint = _joint(points, slants, weight, known)
    error, solved = _left_out(joint, known.rough, np.append(told, slants.rise / size), count)
    height, rise = solved[:count], solved[count:] * weight[slants.axis]
    # A known slope is the derivative of the kernel about its state: it tilts, bends and leans.
    slope, bend = lies.T @ height, CURVED * (lies.T * height) @ lies
    np.add.at(slope, slants.axis, rise)
    turn = np.zeros_like(bend)
    np.add.at(turn, slants.axis, CURVED * rise[:, None] * lies[slants.state])
    leans, place = np.unique(slants.state, return_inverse=True)
    lean = np.zeros((len(leans), points.shape[1]))
    np.add.at(lean, (place, slants.axis), known.bump * rise / known.length**2)
    bumps = known.bump * height
    bumps[leans] -= np.einsum("ij,ij->i", lean, lies[leans])
    return Surface(
        weight, known.length, middle, size, float(np.sum(height)), slope, bend + turn + turn.T,
        _about(lies / known.length), bumps.astype(np.float32), size * error,
        leans, lean.astype(np.float32),
    )  # fmt: skip


def _told(values: FloatArray) -> tuple[float, float, FloatArray]:
    """Return middle and size of a quantity, and it as shares of that size about the middle."""
    middle, size = float(np.mean(values)), max(float(np.std(values)), 1e-12)
    return middle, size, (values - middle) / size


def _left_out(
    kernel: FloatArray, rough: float, told: FloatArray, count: int
) -> tuple[float, FloatArray]:  # fmt: skip
    """Return the error on states left out, and the weights of all heights, `count`, and slopes."""
    noise = np.full(len(told), rough)
    noise[count:] *= SLANTED
    factor = cho_factor(kernel + np.diag(noise), lower=True)
    inverse = cho_solve(factor, np.eye(len(told)))
    solved = inverse @ told
    left = solved[:count] / np.diag(inverse)[:count]
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


def _joint(points: FloatArray, slants: Slants, weight: FloatArray, known: Smooth) -> FloatArray:
    """Return the kernel of all heights and slopes with each other."""
    lies, length = points * weight, known.length
    at, turn, by = lies[slants.state], slants.axis, weight[slants.axis]

    def parts(left: FloatArray, right: FloatArray) -> tuple[FloatArray, FloatArray]:
        inner = left @ right.T
        square = np.sum(left * left, axis=1)[:, None] + np.sum(right * right, axis=1)[None, :]
        far = np.maximum(square - 2.0 * inner, 0.0) / length**2
        return inner, known.bump * np.exp(-0.5 * far)

    inner, near = parts(lies, lies)
    heights = 1.0 + inner + CURVED * inner**2 + near
    if not len(turn):
        return np.asarray(heights)
    inner, near = parts(lies, at)
    along = lies[:, turn]
    away = (along - at[np.arange(len(turn)), turn]) / length**2
    mixed = by * ((1.0 + 2.0 * CURVED * inner) * along + near * away)
    inner, near = parts(at, at)
    along, own = at[:, turn], at[np.arange(len(turn)), turn]
    ahead, back = (along - own) / length**2, (own[:, None] - along.T) / length**2
    same = turn[:, None] == turn
    curved = 2.0 * CURVED * along * along.T + same * (1.0 + 2.0 * CURVED * inner)
    slopes = by[:, None] * by * (curved + near * (same / length**2 - ahead * back))
    return np.block([[heights, mixed], [mixed.T, slopes]])
