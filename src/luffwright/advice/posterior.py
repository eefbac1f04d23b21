"""What sightings tell of the unknowns: boats that might be, reweighted by what was seen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr, ndtri
from scipy.stats import qmc

from luffwright.advice.doubt import SLIPPED, Axis, scaled, sheeted
from luffwright.advice.emulator import Surface
from luffwright.arrays import FloatArray

MISREAD = 0.04
"""Share of looks in which a telltale is told as what it is not."""
BLURRED = float(np.radians(0.7))
"""How near to nought a margin has to be for a crew to tell the tuft either way [rad]: there it
streams between a third and two thirds of the time. Together with the emulator's own error."""
SLACK_BLURRED = 0.0015
BOATS = 4096
"""How many boats are drawn."""
SELDOM = 0.2
"""A tuft that is gone for a smaller share of the time is told as streaming, one that is gone for
more, up to half of it, as wavering (a judgement)."""
FEW = 400.0
"""Where fewer of them count, more are drawn where the sightings point to."""
WIDER = 1.4
"""How much wider the second draw is than what the first one points to."""
ROUNDS = 3
TAILS = 4.0
"""Degrees of freedom of what a gauge is off by: few, as a misread or stuck one is not rare."""


APART = 0.25
"""Share of the emulator's variance in which two states of one boat differ; in the rest it is off on
both alike. So their difference is off by 0.7 of what one of them is: a judgement."""


@dataclass(frozen=True)
class Felt:
    """A value that was read: of the reading `name`, `value`, how far the gauge and the hull's own
    figures may be off alike in all looks, `alike`, and how far each look is off besides, `apart`:
    read by eye, in a wind that is no longer quite the same [the reading's unit].
    """

    name: str
    value: float
    alike: float
    apart: float


@dataclass(frozen=True)
class Sighting:
    """One look: `tufts` [by name of a margin] streaming or not; what was `felt`; `moved`: how far
    each control [its unit] and the course [rad] stand from where they stood at the first look.

    `wavering`: luff tufts that go now and then; `swing`: how far the incidence at each luff tuft
    swings over a minute, standard deviation [rad].
    """

    tufts: tuple[tuple[str, bool], ...] = ()
    felt: tuple[Felt, ...] = ()
    moved: tuple[tuple[str, float], ...] = ()
    wavering: tuple[str, ...] = ()
    swing: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class Boats:
    """Boats that might be: `points` (n, axes) [each its unit] as they were at the first look, and
    their `weights`, which sum to one; `fit`: how likely all sightings together were [-, natural
    logarithm].
    """

    axes: tuple[Axis, ...]
    points: FloatArray
    weights: FloatArray
    fit: float = 0.0

    @property
    def count(self) -> float:
        """Return how many boats count [-]."""
        return float(1.0 / np.sum(self.weights**2))

    def middle(self) -> FloatArray:
        """Return the mean of each unknown [each its unit]."""
        return np.asarray(self.weights @ self.points)

    def spread(self) -> FloatArray:
        """Return the standard deviation of each unknown [each its unit]."""
        away = self.points - self.middle()
        return np.asarray(np.sqrt(self.weights @ away**2))

    def drawn(self, count: int) -> FloatArray:
        """Return `count` boats, each as often as it weighs [each its unit]."""
        places = (np.arange(count) + 0.5) / count
        index = np.searchsorted(np.cumsum(self.weights), places)
        return np.asarray(self.points[np.minimum(index, len(self.points) - 1)])


def after(
    axes: tuple[Axis, ...], surfaces: Mapping[str, Surface], sightings: tuple[Sighting, ...]
) -> Boats:
    """Return the boats that might be after sightings.

    Parameters
    ----------
    axes : tuple of Axis
        With what is believed before.
    surfaces : mapping
        The emulator, by name of a reading.
    sightings : tuple of Sighting
        Their order does not matter.

    Returns
    -------
    Boats
        What was not looked at tells nothing. Sightings are independent of each other but for the
        boat, which is the same, and for what a gauge is off by in all of them.

    Notes
    -----
    Importance sampling: boats are drawn from what is believed, weighed by how likely each look is
    on them, and where few of them count drawn again from a normal variable as wide as those.
    """
    spread = np.array([it.spread for it in axes])
    normal = _normal(len(axes), BOATS)
    points = drawn_from(axes, normal)
    likely = likelihood(axes, surfaces, sightings, points)
    found = _weighed(axes, points, likely)
    for _ in range(ROUNDS):
        if found.count >= FEW:
            break
        root = _root(found, spread)
        points = found.middle() + normal @ root.T
        rest = before(axes, points) + float(np.sum(np.log(np.diag(root))))
        drawn = -0.5 * np.sum(normal**2, axis=1)
        likely = likelihood(axes, surfaces, sightings, points)
        new = _weighed(axes, points, likely + rest - drawn)
        if new.count <= found.count:
            break
        found = new
    return found


def drawn_from(axes: tuple[Axis, ...], normal: FloatArray) -> FloatArray:
    """Return boats drawn from what is believed before anything is seen.

    Parameters
    ----------
    axes : tuple of Axis
    normal : (n, axes) array
        Normal variables. [-]

    Returns
    -------
    (n, axes) array
        [each its unit]
    """
    out = np.empty_like(normal)
    for k, it in enumerate(axes):
        away = it.spread * normal[:, k]
        if it.slipped > it.spread:
            grid = it.slipped * np.linspace(-5.0, 5.0, 801)
            share = (1.0 - SLIPPED) * ndtr(grid / it.spread) + SLIPPED * ndtr(grid / it.slipped)
            away = np.interp(ndtr(normal[:, k]), share, grid)
        out[:, k] = it.middle + away
    return sheeted(axes, out, 1.0) if _suits(axes) else out


def before(axes: tuple[Axis, ...], points: FloatArray) -> FloatArray:
    """Return how likely each boat is before anything is seen, natural logarithm.

    Parameters
    ----------
    axes : tuple of Axis
    points : (n, axes) array
        [each its unit]

    Returns
    -------
    (n,) array
        Density against that of normal variables in units of the axes themselves, but for a
        constant. [-]
    """
    own = sheeted(axes, points, -1.0) if _suits(axes) else points
    out = np.zeros(len(points))
    for k, it in enumerate(axes):
        away = own[:, k] - it.middle
        sharp = np.exp(-0.5 * (away / it.spread) ** 2) / it.spread
        if it.slipped > it.spread:
            wide = np.exp(-0.5 * (away / it.slipped) ** 2) / it.slipped
            sharp = (1.0 - SLIPPED) * sharp + SLIPPED * wide
        out += np.log(np.maximum(sharp, 1e-300))
    return out


def _suits(axes: tuple[Axis, ...]) -> bool:
    return any(it.suits for it in axes)


def _normal(axes: int, count: int) -> FloatArray:
    """Return quasi-random normal variables, the same whenever asked."""
    raw = qmc.Sobol(axes, seed=1).random(count)
    return np.asarray(ndtri(np.clip(raw, 1e-6, 1.0 - 1e-6)))


def _root(found: Boats, spread: FloatArray) -> FloatArray:
    """Return the root of the covariance to draw from anew."""
    away = (found.points - found.middle()) / spread
    cover = (found.weights[:, None] * away).T @ away
    share = min(1.0, found.count / (4.0 * len(spread)))
    cover = share * cover + (1.0 - share) * np.diag(np.diag(cover)) + 0.02 * np.eye(len(spread))
    return np.asarray(spread[:, None] * np.linalg.cholesky(WIDER * cover))


def _weighed(axes: tuple[Axis, ...], points: FloatArray, likely: FloatArray) -> Boats:
    most = float(np.max(likely))
    weight = np.exp(likely - most)
    mean = float(np.mean(weight))
    return Boats(axes, points, weight / (mean * len(weight)), most + float(np.log(mean)))


def likelihood(
    axes: tuple[Axis, ...], surfaces: Mapping[str, Surface], sightings: tuple[Sighting, ...],
    points: FloatArray,
) -> FloatArray:  # fmt: skip
    """Return how likely the sightings are on each boat, natural logarithm.

    Parameters
    ----------
    axes : tuple of Axis
    surfaces : mapping
    sightings : tuple of Sighting
    points : (n, axes) array
        [each its unit]

    Returns
    -------
    (n,) array
        [-]
    """
    out = np.zeros(len(points))
    read: dict[str, list[tuple[FloatArray, Felt]]] = {}
    for look in sightings:
        there = scaled(axes, moved(axes, points, dict(look.moved)))
        out += _shown(surfaces, look, there)
        for it in look.felt:
            off = surfaces[it.name](there) - it.value
            read.setdefault(it.name, []).append((off, it))
    for name, looks in read.items():
        out += _fits(np.array([off for off, _ in looks]), [it for _, it in looks], surfaces[name])
    return out


def _shown(surfaces: Mapping[str, Surface], look: Sighting, there: FloatArray) -> FloatArray:
    """Return how likely what the tufts of one look showed is on each boat, natural logarithm.

    A luff tuft streams, wavers or is gone, by its share of the time; any other streams or not.
    """
    swing, out = dict(look.swing), np.zeros(len(there))
    for name, streaming in (*look.tufts, *((name, None) for name in look.wavering)):
        mostly = streams(surfaces, name, there)
        steadily = mostly
        if name in swing:
            steadily = streams(surfaces, name, there, float(-ndtri(SELDOM)) * swing[name])
        share = {True: steadily, False: 1.0 - mostly, None: mostly - steadily}[streaming]
        out += np.log(MISREAD + (1.0 - (3 if name in swing else 2) * MISREAD) * share)
    return out


def _fits(off: FloatArray, felt: list[Felt], found: Surface) -> FloatArray:
    r"""Return how likely what one gauge showed is on each boat, natural logarithm but a constant.

    .. math:: -\tfrac{\nu + k}{2} \ln(1 + r' C^{-1} r / \nu), \quad
        C = a^2 1 1' + \mathrm{diag}(b^2)

    with :math:`\nu = 4`: heavy tails, so that a figure that fits no boat does not throw out all
    that do. What is off alike in all looks, :math:`a`, falls out of their differences.
    """
    alike = max(it.alike for it in felt) ** 2 + (1.0 - APART) * found.error**2
    apart = np.array([it.apart**2 + APART * found.error**2 for it in felt])[:, None]
    known = np.sum(off / apart, axis=0)
    square = np.sum(off**2 / apart, axis=0) - known**2 / (1.0 / alike + np.sum(1.0 / apart))
    return np.asarray(-0.5 * (TAILS + len(felt)) * np.log1p(np.maximum(square, 0.0) / TAILS))


def streams(
    surfaces: Mapping[str, Surface], name: str, there: FloatArray, least: float = 0.0
) -> FloatArray:
    """Return the chance that a tuft streams, or a leech stands still, for half of the time.

    Parameters
    ----------
    surfaces : mapping
        The emulator, by name of a reading.
    name : str
        Of the tuft's margin.
    there : (n, axes) array
        [half ranges]
    least : float
        Margin that it takes, for more of the time. [rad]

    Returns
    -------
    (n,) array
        [-]
    """
    found = surfaces[name]
    blur = float(np.hypot(SLACK_BLURRED if "flutter" in name else BLURRED, found.error))
    return np.asarray(ndtr((found(there) - least) / blur))


def moved(axes: tuple[Axis, ...], points: FloatArray, by: Mapping[str, float]) -> FloatArray:
    """Return boats after moves.

    Parameters
    ----------
    axes : tuple of Axis
    points : (n, axes) array
        [each its unit]
    by : mapping
        How far each goes. [each its unit]

    Returns
    -------
    (n, axes) array
        [each its unit]
    """
    shift = np.array([by.get(it.name, 0.0) for it in axes])
    return points + shift
